// A process that uses the embedded server of a data folder until its input ends: what the tests start several of, and kill.
//   node embedded-process.mjs <data folder> <options of startEmbedded() as JSON>
import { builtHouse } from './built-house.mjs';

const { startEmbedded } = await builtHouse('database/embedded/server.js');
const [dataFolder = '', options = '{}'] = process.argv.slice(2);
const say = (line) => process.stdout.write(`${line}\n`);
process.on('SIGINT', () => say('interrupted'));
try {
  const server = await startEmbedded(dataFolder, say, JSON.parse(options));
  say(`url ${server.url}`);
  process.stdin.resume().on('end', async () => {
    await server.stop();
    process.exit(0);
  });
} catch (error) {
  say(`refused ${error.name}: ${error.message}`);
  process.exit(1);
}
