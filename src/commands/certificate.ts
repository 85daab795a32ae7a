import { createPrivateKey, X509Certificate } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { CannotStart, type Config } from '../config.js';

/** Reads the files with which HTTPS is served. @throws CannotStart where they can't be read, or do not belong together */
export function readCertificate({ tls }: Pick<Config, 'tls'>): { cert: string; key: string } | undefined {
  if (!tls) return undefined;
  const cert = readText('TLS_CERT', tls.certFile);
  const key = readText('TLS_KEY', tls.keyFile);
  const certificate = made(
    'TLS_CERT must be a certificate in PEM, followed by its chain.',
    () => new X509Certificate(cert),
  );
  const privateKey = made('TLS_KEY must be a private key in PEM, without a password.', () => createPrivateKey(key));
  if (!certificate.checkPrivateKey(privateKey))
    throw new CannotStart(
      'TLS_KEY is not the key of the certificate in TLS_CERT. Name two files that belong together.',
    );
  return { cert, key };
}

function readText(name: string, file: string): string {
  try {
    return readFileSync(file, 'utf8');
  } catch (error) {
    throw new CannotStart(`${name} names ${file}, which can't be read (${(error as { code?: string }).code}).`);
  }
}

function made<T>(what: string, make: () => T): T {
  try {
    return make();
  } catch {
    throw new CannotStart(what);
  }
}
