/** Arrays in memory, without a look at their length: all indices are the compiler's (../../network/compile.ts). */

/** Whole numbers. */
@unmanaged
export class Ints {
  [key: i32]: i32;
  @inline @operator("[]") at(i: i32): i32 {
    return load<i32>(changetype<usize>(this) + ((<usize>i) << 2));
  }
  @inline @operator("[]=") put(i: i32, value: i32): void {
    store<i32>(changetype<usize>(this) + ((<usize>i) << 2), value);
  }
}

/** Whole numbers under 256. */
@unmanaged
export class Bytes {
  [key: i32]: i32;
  @inline @operator("[]") at(i: i32): i32 {
    return load<u8>(changetype<usize>(this) + <usize>i);
  }
  @inline @operator("[]=") put(i: i32, value: i32): void {
    store<u8>(changetype<usize>(this) + <usize>i, value);
  }
}

/** Totals and moments: whole numbers that may be beyond 32 bits. */
@unmanaged
export class Sums {
  [key: i32]: f64;
  @inline @operator("[]") at(i: i32): f64 {
    return load<f64>(changetype<usize>(this) + ((<usize>i) << 3));
  }
  @inline @operator("[]=") put(i: i32, value: f64): void {
    store<f64>(changetype<usize>(this) + ((<usize>i) << 3), value);
  }
}

/** Addresses of records. */
@unmanaged
export class Refs<T> {
  [key: i32]: T;
  @inline
  @operator("[]")
  at(i: i32): T {
    return changetype<T>(load<usize>(changetype<usize>(this) + ((<usize>i) << 2)));
  }
}
