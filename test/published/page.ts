/** What `npm run published -- --out FILE` writes: how each model is written down, the table, and how often intervals hold. */
export function pageOf(found: string): string {
  return `# Published against simulated values

${ABOUT}

${found}
`;
}

const ABOUT = `\
\`npm run published\` (\`test/published/\`) compares what the engine makes of scenario files with published formulas, in some
minutes; \`npm test\` does so with fewer replications and fixed seeds. Every file of scenarios there says how its model is written
down. What is known is computed in \`test/reference/\`: by the book's formula, from memory where it says so, and by a Markov chain of
ours that agrees with it (M/M/1/K and waits by formula only). A value is the mean of replications, ± half of its 99 % interval;
"share" is that half as a share of the value. One value in a hundred should lie outside of its own interval; the command fails if
one lies outside of an interval so wide that all of them hold together with 99 % (Bonferroni). Items a slot of two Bernoulli
machines are also held to an interval of less than 0.2 % from end to end.

- **Two Bernoulli machines:** a slot is a tick and both cycles, up and down times are geometric in clock time, items go from hand to
  hand; N is the first's outfeed and the last's infeed together, hence at least two. All machines start up, so slot 1 is not left
  to chance, and the book's slot 1 is the file's slot 2.
- **Longer lines:** a machine between two others holds the item it works on and hands it over in a later slot than it took it in; in the
  book it does both in one slot and holds nothing. So the exact rates are another chain's (\`reference/holding-line.ts\`),
  0.0015 % above the book's with room for five, up to 0.8 % with room for two. The aggregation is the book's.
- **Geometric unreliable machines:** N counts the item in each machine, N = outfeed + infeed + 2, and a cycle has many ticks; what ticks
  add is proportional to a tick, so 2 × (fine) − (coarse) is the limit. Failing is counted in running time: neither a starved nor a
  blocked machine fails. The book's N = 100 is left out: it takes ten times as long to narrow down.
- **Flows:** items become small, 20 and 40 or 5 and 10 to a unit of time, and failing goes on by the clock.
- **Feeds and gates:** what a feed whose gaps are drawn delivers on a belt with 5 to 50 % to spare is its stated mean; items wait at its
  gate for the belt's slots, which makes it an M/D/1, less the one item that the belt's entrance lets in to wait.
- **Intervals:** each experiment is a \`run --replications\` with a seed of its own (\`interval-coverage.ts\`); the truth is of 800 runs of
  200 h after the ramp-up and, for what is made up to the end of the loss, of 8,000 of the horizon. Where the run is too short to
  tell, or fewer than fifty stops of a kind were seen, none is printed; on all of the lines some hundred or more are to be expected.
- **Single runs:** the same lines with horizons of some hundred stops, a quarter as many experiments; by batch means.
- **Winners among equals:** two tactics that fill like halves of a plant, and two layouts alike but for their machines' names, hence with
  luck of their own (\`false-winners.ts\`); at most one comparison in twenty may name a winner, going on or not.
- **Queues:** a feed that is held up loses nothing, so what a full queue turns away leaves by a divider's second outlet.

"→" leads from the coarser tick to the finer and on to the limit.`;
