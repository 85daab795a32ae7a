import { z } from 'zod';
import { CannotStart } from '../../config.js';

export const MANIFEST = 'manifest.json';
/** In the form that `sha256sum -c` reads, so that a backup can be checked without this program. */
export const SUMS = 'SHA256SUMS';
export const pathOf = (table: string) => `tables/${table}.copy`;

const FORMAT = 'wareboard-backup-1';
const Sha256 = z.string().regex(/^[0-9a-f]{64}$/);

const Manifest = z.object({
  format: z.literal(FORMAT),
  /** The version of the program that made it. */
  program: z.string(),
  takenAt: z.iso.datetime(),
  /** The state of the tables: what was applied, in order. */
  migrations: z.array(z.object({ name: z.string(), checksum: Sha256 })).min(1),
  /** In an order in which no row refers to one that comes later. */
  tables: z.array(
    z.object({
      name: z.string(),
      columns: z.array(z.string()).min(1),
      rows: z.int().min(0),
      bytes: z.int().min(0),
      sha256: Sha256,
    }),
  ),
});

export type Manifest = z.infer<typeof Manifest>;
export type StoredTable = Manifest['tables'][number];

export const newManifest = (content: Omit<Manifest, 'format'>): Manifest => ({ format: FORMAT, ...content });

/** @throws CannotStart where it is none, or of another kind */
export function parseManifest(text: string): Manifest {
  const parsed = Manifest.safeParse(orUndefined(() => JSON.parse(text)));
  if (!parsed.success)
    throw new CannotStart('This is not a backup that this Wareboard can read: its list of contents does not match.');
  return parsed.data;
}

/** The lines of SHA256SUMS. */
export const sumsOf = (sums: ReadonlyMap<string, string>): string =>
  [...sums].map(([path, sha256]) => `${sha256}  ${path}\n`).join('');

function orUndefined<T>(make: () => T): T | undefined {
  try {
    return make();
  } catch {
    return undefined;
  }
}
