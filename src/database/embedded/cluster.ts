import { randomBytes } from 'node:crypto';
import { chown, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { CannotStart } from '../../config.js';
import { program } from './binaries.js';
import type { ClusterLocation } from './cluster-location.js';
import { runCommandAs } from './run-command.js';

export const SUPERUSER = 'wareboard';

const FIRST_WITH_OWN_LOCALES = 17;

interface Making {
  /** Whether it is to be safe from a power cut. */
  sync: boolean;
  /** PostgreSQL's. */
  version: string;
}

const passwordFile = (lodging: ClusterLocation) => join(lodging.folder, 'password');

/**
 * Makes an empty cluster with a generated password in a file that only its owner reads. Encoding and sorting are fixed, so that
 * names sort alike on every machine whatever its language.
 */
export async function makeCluster(lodging: ClusterLocation, native: string, { sync, version }: Making): Promise<void> {
  const { owner } = lodging;
  const pwfile = passwordFile(lodging);
  await writeFile(pwfile, randomBytes(24).toString('base64url'), { mode: 0o600, flag: 'wx' });
  if (owner) await chown(pwfile, owner.uid, owner.gid); // initdb, which runs as the owner, reads it

  const args = [
    ['-D', join(lodging.folder, 'cluster'), '-U', SUPERUSER, `--pwfile=${pwfile}`, '-A', 'scram-sha-256'],
    ['-E', 'UTF8', ...localeOf(version)],
    ['--no-instructions', ...(sync ? [] : ['--no-sync'])],
  ];
  const outcome = await runCommandAs(program(native, 'initdb'), args.flat(), owner);
  if (!outcome.ok) {
    const reason = outcome.output.split('\n').findLast((line) => line.includes('error:') || line.includes('FATAL'));
    throw new CannotStart(`A database can't be made in ${lodging.folder}: ${reason ?? outcome.output}`);
  }
}

/** Names sort by code points and letters have their cases, by PostgreSQL's own tables from 17 on, by the system's before. */
const localeOf = (version: string) =>
  Number.parseInt(version, 10) >= FIRST_WITH_OWN_LOCALES
    ? ['--locale-provider=builtin', '--builtin-locale=C.UTF-8', '--locale=C']
    : ['--locale=C.UTF-8'];

export const readPassword = (lodging: ClusterLocation) =>
  readFile(passwordFile(lodging), 'utf8').catch((error) => {
    throw new CannotStart(`The database's password in ${passwordFile(lodging)} can't be read (${error.code}).`);
  });
