import { createReadStream, createWriteStream } from 'node:fs';
import { open, stat } from 'node:fs/promises';
import { Readable } from 'node:stream';
import { buffer, text } from 'node:stream/consumers';
import { pipeline } from 'node:stream/promises';
import { createGunzip, createGzip } from 'node:zlib';
import { extract, pack } from 'tar-stream';
import { CannotStart } from '../../config.js';
import { MANIFEST, type Manifest, parseManifest, pathOf, SUMS, sumsOf } from './manifest.js';
import { measure, sha256Of } from './measure.js';

type Entry = ReturnType<typeof extract> extends AsyncIterable<infer E> ? E : never;

const PRIVATE = 0o600;
const MANIFEST_BYTES_MAX = 1_000_000;

/**
 * Writes a backup as a gzipped tar file: the manifest, each table as COPY text, and last the checksums of all these.
 * @param spoolOf where the text of a table lies
 */
export async function writeArchive(
  path: string,
  manifest: Manifest,
  spoolOf: (table: string) => string,
): Promise<void> {
  const tar = pack();
  const written = pipeline(tar, createGzip(), createWriteStream(path, { mode: PRIVATE, flags: 'wx' }));
  const mtime = new Date(manifest.takenAt);
  const sums = new Map<string, string>();
  const add = async (name: string, size: number, content: Readable, sha256: string) => {
    sums.set(name, sha256);
    await pipeline(content, tar.entry({ name, size, mtime, mode: PRIVATE }));
  };
  const addText = (name: string, content: string) =>
    add(name, Buffer.byteLength(content), Readable.from([content]), sha256Of(content));
  const fill = async () => {
    await addText(MANIFEST, `${JSON.stringify(manifest, null, 2)}\n`);
    for (const { name, bytes, sha256 } of manifest.tables)
      await add(pathOf(name), bytes, createReadStream(spoolOf(name)), sha256);
    await addText(SUMS, sumsOf(sums));
    tar.finalize();
  };
  await Promise.all([written, fill()]);
  const file = await open(path, 'r+');
  await file.sync().finally(() => file.close());
}

/**
 * Reads a backup through, and calls `each` for every table in it with its text, which must be read to the end.
 * @throws CannotStart where a byte is not what was written, or anything is missing or too much; what `each` did is then void
 */
export async function readArchive(
  path: string,
  each: (table: Manifest['tables'][number], content: Readable) => Promise<unknown>,
): Promise<Manifest> {
  const file = await stat(path).catch(() => undefined);
  if (!file?.isFile()) throw new CannotStart(`There is no file ${path}, or it can't be read.`);
  const tar = extract();
  const flowing = pipeline(createReadStream(path), createGunzip(), tar);
  flowing.catch(() => undefined); // told by the entries, which break off
  const entries = tar[Symbol.asyncIterator]();
  try {
    const sums = new Map<string, string>();
    const manifest = parseManifest(await manifestText(await next(entries, MANIFEST), sums));
    for (const table of manifest.tables) {
      const entry = await next(entries, pathOf(table.name));
      const { through, result } = measure();
      await Promise.all([pipeline(Readable.from(entry), through), each(table, through)]);
      const found = result();
      if (found.sha256 !== table.sha256 || found.rows !== table.rows || found.bytes !== table.bytes) throw changed();
      sums.set(pathOf(table.name), found.sha256);
    }
    if ((await text(await next(entries, SUMS))) !== sumsOf(sums)) throw changed();
    if (!(await entries.next()).done) throw changed();
    await flowing;
    return manifest;
  } catch (error) {
    throw isOfTheFile(error) ? changed() : error;
  } finally {
    tar.destroy();
  }
}

async function next(entries: AsyncIterator<Entry>, name: string): Promise<Entry> {
  const { value, done } = await entries.next();
  if (done || value.header.name !== name) throw changed();
  return value;
}

async function manifestText(entry: Entry, sums: Map<string, string>): Promise<string> {
  if (entry.header.size > MANIFEST_BYTES_MAX) throw changed();
  const content = (await buffer(entry)).toString('utf8');
  sums.set(MANIFEST, sha256Of(content));
  return content;
}

/** What zlib and tar say of a file that is cut off or damaged. */
const isOfTheFile = (error: unknown) =>
  error instanceof Error &&
  (/^(Z_|ERR_STREAM_PREMATURE_CLOSE)/.test((error as { code?: string }).code ?? '') ||
    /Unexpected end of data|Invalid tar header/.test(error.message));

const changed = () =>
  new CannotStart(
    'The backup is damaged, cut off or was changed: its checksums do not match. Nothing was written; take another.',
  );
