/** Works out what follows from a thing that never changes, a network say, when it is first asked for, and keeps it as long as that. */
export function once<Of extends object, Found>(work: (of: Of) => Found): (of: Of) => Found {
  const known = new WeakMap<Of, { readonly found: Found }>();
  return (of) => {
    let kept = known.get(of);
    if (kept === undefined) {
      kept = { found: work(of) };
      known.set(of, kept);
    }
    return kept.found;
  };
}
