/**
 * Uniform numbers of a stream, as seedrandom's Alea gives them to the host (../random/stream.ts), of which products are wanted
 * here: an Erlang draw takes dozens. Alea's fractions are whole numbers of 2^-32, and so it is whole numbers here.
 */
import { alea } from "./memory";

const STATE = 4;
const FACTOR: u64 = 2091639;
const LOW: u64 = 0xffffffff;
const ONE: u64 = 1 << 53;

/** The product of 1 - u over the stream's next numbers u, which are steps of 2^-53; no more than 16, or it may be 0. */
export function productOf(stream: i32, count: i32): f64 {
  const at = stream * STATE;
  let first = <u64>alea[at] & LOW;
  let second = <u64>alea[at + 1] & LOW;
  let third = <u64>alea[at + 2] & LOW;
  let carry = <u64>alea[at + 3] & LOW;
  let product: f64 = 1;
  for (let n = 0; n < count; n++) {
    const upper = FACTOR * first + carry;
    const lower = FACTOR * second + (upper >> 32);
    carry = lower >> 32;
    first = third;
    second = upper & LOW;
    third = lower & LOW;
    product *= <f64>(ONE - ((second << 21) | (third >> 11))) * (1.0 / <f64>ONE);
  }
  alea[at] = <i32>first;
  alea[at + 1] = <i32>second;
  alea[at + 2] = <i32>third;
  alea[at + 3] = <i32>carry;
  return product;
}
