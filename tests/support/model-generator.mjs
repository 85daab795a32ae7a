// A generator for `prisma generate` that hands out Prisma's own reading of schema.prisma: JSON-RPC, one object a line, answers on stderr.
import { writeFileSync } from 'node:fs';
import { createInterface } from 'node:readline';

createInterface({ input: process.stdin }).on('line', (line) => {
  const { id, method, params } = JSON.parse(line);
  if (method === 'generate') writeFileSync(process.env.MODEL_FILE, JSON.stringify(params.dmmf.datamodel));
  const result = method === 'getManifest' ? { manifest: { prettyName: 'model', defaultOutput: '.' } } : null;
  process.stderr.write(`${JSON.stringify({ jsonrpc: '2.0', id, result })}\n`);
});
