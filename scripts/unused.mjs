// What ships and nothing that ships calls: knip over the production code alone, where a test is no user. What a coming part needs is
// named here with its reason; one that got its user, or went, must leave this list.
import { spawnSync } from 'node:child_process';

const COMING = {
  'src/trade/materials/clay.ts: firedMassGrams': 'the mass of a load, and whose an unmarked piece is',
  'src/trade/firing/cones.ts: coneReached': "what a firing's log says beside its witness cones",
  'src/trade/firing/cost-split.ts: airportShares': 'a firing shared out by the height of its layers',
  'src/trade/firing/kiln-room.ts: boxVolumeMm3': 'firing rates that a studio posts by volume',
  'src/trade/firing/tariff.ts: cheapestStart': 'when to start a firing',
};

const knip = ['node_modules/knip/bin/knip.js', '--production', '--config', 'knip.production.jsonc'];
const { stdout, stderr } = spawnSync(
  process.execPath,
  [...knip, '--include', 'files,exports,types', '--reporter', 'json'],
  {
    encoding: 'utf8',
  },
);
if (!stdout) {
  console.error(stderr);
  process.exit(1);
}
const found = JSON.parse(stdout).issues.flatMap(({ file, files, exports, types }) => [
  ...(files ?? []).map(() => file),
  ...[...(exports ?? []), ...(types ?? [])].map(({ name }) => `${file}: ${name}`),
]);
const dead = found.filter((name) => !(name in COMING));
const alive = Object.keys(COMING).filter((name) => !found.includes(name));
for (const name of dead) console.error(`${name} is used by nothing that ships. Give it its user, or remove it.`);
for (const name of alive) console.error(`${name} is used or gone: take it off the list in scripts/unused.mjs.`);
process.exit(dead.length + alive.length > 0 ? 1 : 0);
