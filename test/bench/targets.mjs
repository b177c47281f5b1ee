/** What was to be reached, and whether it is: said at the end. */
const targets = [];

/** @param {string} name @param {number} measured @param {number} bound at most this @param {string} unit */
export function atMost(name, measured, bound, unit) {
  targets.push({ holds: measured <= bound, text: `${name}: ${figure(measured)} ${unit}, at most ${figure(bound)}` });
}

/** @param {string} name @param {number} measured @param {number} bound at least this @param {string} unit */
export function atLeast(name, measured, bound, unit) {
  targets.push({ holds: measured >= bound, text: `${name}: ${figure(measured)} ${unit}, at least ${figure(bound)}` });
}

const figure = (/** @type {number} */ value) =>
  value === Infinity ? "left out" : value >= 100 ? value.toFixed(0) : value.toPrecision(3);

/** @param {(text: string) => void} print */
export function tellTargets(print) {
  print("\nTargets, in processor time where nothing else is said");
  for (const { holds, text } of targets) print(`${holds ? "holds" : "NOT  "}  ${text}`);
  print(`${targets.filter(({ holds }) => holds).length} of ${targets.length} hold`);
}
