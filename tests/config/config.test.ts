import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { CannotStart, loadConfig } from '../../src/config.js';

describe('the environment', () => {
  test('may be empty: a studio on this machine', () => {
    expect(loadConfig({})).toEqual({
      databaseUrl: undefined,
      dataFolder: './data/studio',
      host: '127.0.0.1',
      port: 4747,
      baseUrl: undefined,
      trustProxy: false,
      smtpUrl: undefined,
      mailFrom: undefined,
      tls: undefined,
      plainHttp: false,
      logLevel: 'info',
    });
  });

  test('is read whole', () => {
    const env = {
      DATABASE_URL: 'postgresql://studio:s%20cret@db:5433/wares?sslmode=require',
      WAREBOARD_DATA: '/srv/wares',
      HOST: '::1',
      PORT: '0',
      BASE_URL: 'https://wares.example/',
      TRUST_PROXY: '1',
      SMTP_URL: 'smtps://u:p@mail.example:465',
      MAIL_FROM: 'The Clay Room <hello@wares.example>',
      TLS_CERT: '/etc/wares/chain.pem',
      TLS_KEY: '/etc/wares/key.pem',
      ALLOW_PLAIN_HTTP: 'true',
      LOG_LEVEL: 'debug',
    };
    expect(loadConfig(env)).toEqual({
      databaseUrl: env.DATABASE_URL,
      dataFolder: '/srv/wares',
      host: '::1',
      port: 0,
      baseUrl: 'https://wares.example',
      trustProxy: 1,
      smtpUrl: env.SMTP_URL,
      mailFrom: env.MAIL_FROM,
      tls: { certFile: env.TLS_CERT, keyFile: env.TLS_KEY },
      plainHttp: true,
      logLevel: 'debug',
    });
  });

  test('counts an empty variable as not set, and passes over what is not ours', () => {
    expect(loadConfig({ PORT: '', DATABASE_URL: '  ', LANG: 'nonsense' })).toEqual(loadConfig({}));
  });

  test.each([
    ['true', true],
    ['false', false],
    ['2', 2],
    ['127.0.0.1', '127.0.0.1'],
    ['10.0.0.0/8, fd00::/8', '10.0.0.0/8, fd00::/8'],
  ])('trusts the proxies of TRUST_PROXY=%s', (text, trusted) => {
    expect(loadConfig({ TRUST_PROXY: text }).trustProxy).toBe(trusted);
  });
});

describe('a broken variable', () => {
  test.each([
    [{ PORT: '70000' }, 'PORT must be a whole number up to 65535 (0: any free port).'],
    [{ PORT: '47.5' }, 'PORT must be a whole number'],
    [{ PORT: '-1' }, 'PORT must be a whole number'],
    [{ PORT: 'http' }, 'PORT must be a whole number'],
    [{ HOST: 'http://127.0.0.1' }, 'HOST must be a host name or an address, such as 127.0.0.1 or 0.0.0.0.'],
    [{ DATABASE_URL: 'mysql://x:y@db/z' }, 'DATABASE_URL must be such as postgresql://'],
    [{ DATABASE_URL: 'localhost:5432' }, 'DATABASE_URL must be'],
    [{ BASE_URL: 'wares.example' }, 'BASE_URL must be such as https://studio.example.'],
    [{ SAMPLE_PORT: '70000' }, 'SAMPLE_PORT must be a whole number'],
    [{ SAMPLE_URL: 'studio.example:8443' }, 'SAMPLE_URL must be such as https://studio.example:8443.'],
    [{ TRUST_PROXY: 'yes' }, 'TRUST_PROXY must be true, false, the number of proxies'],
    [{ TRUST_PROXY: 'bad' }, 'TRUST_PROXY must be'],
    [{ SMTP_URL: 'mail.example:25', MAIL_FROM: 'a@b.example' }, 'SMTP_URL must be such as smtps://'],
    [{ SMTP_URL: 'smtp://mail.example' }, 'SMTP_URL needs MAIL_FROM as well'],
    [{ MAIL_FROM: 'The Clay Room' }, 'MAIL_FROM must be an address such as'],
    [{ MAIL_FROM: 'a@b.example\r\nBcc: c@d.example' }, 'MAIL_FROM must be'],
    [{ DATABASE_PASSWORD: 'x' }, 'DATABASE_PASSWORD needs DATABASE_URL as well'],
    [{ TLS_CERT: 'chain.pem' }, 'TLS_CERT needs TLS_KEY as well'],
    [{ TLS_KEY: 'key.pem' }, 'TLS_KEY needs TLS_CERT as well'],
    [{ WAREBOARD_PORT: '80' }, 'WAREBOARD_PORT is not read; it is called PORT.'],
    [{ WAREBOARD_DATABASE_URL_FILE: '/x' }, 'WAREBOARD_DATABASE_URL_FILE is not read; it is called DATABASE_URL_FILE.'],
    [{ WAREBOARD_DAT: './x' }, 'WAREBOARD_DAT is not read. There are DATABASE_URL, DATABASE_PASSWORD, WAREBOARD_DATA,'],
    [{ LOG_LEVEL: 'loud' }, 'LOG_LEVEL must be one of fatal, error, warn, info, debug, trace, silent.'],
  ])('is refused with what is allowed: %j', (env, message) => {
    expect(() => loadConfig(env)).toThrow(CannotStart);
    expect(() => loadConfig(env)).toThrow(message);
  });

  test('is named together with every other, and never shown', () => {
    const url = 'postgresq://u:s3cret@db/z';
    const env = { PORT: 'x', LOG_LEVEL: 'y', DATABASE_URL: url, SMTP_URL: 'smtp://mail.example', WAREBOARD_HOST: 'z' };
    expect(() => loadConfig(env)).toThrow(
      /DATABASE_URL .*\n.*PORT .*\n.*LOG_LEVEL .*\n.*SMTP_URL needs .*\n.*WAREBOARD_HOST /,
    );
    expect(() => loadConfig(env)).not.toThrow(/s3cret/);
  });
});

describe('a secret in a file', () => {
  const folder = mkdtempSync(join(tmpdir(), 'wareboard-secrets-'));
  afterAll(() => rmSync(folder, { recursive: true }));
  const fileOf = (name: string, text: string) => {
    writeFileSync(join(folder, name), text);
    return join(folder, name);
  };

  test('is read, without the line break at its end', () => {
    const DATABASE_URL_FILE = fileOf('database', ' postgresql://studio:s3cret@db/wares\n');
    const SMTP_URL_FILE = fileOf('smtp', 'smtps://u:p@mail.example:465\r\n');
    expect(loadConfig({ DATABASE_URL_FILE, SMTP_URL_FILE, MAIL_FROM: 'hello@wares.example' })).toMatchObject({
      databaseUrl: 'postgresql://studio:s3cret@db/wares',
      smtpUrl: 'smtps://u:p@mail.example:465',
    });
  });

  test('may be the password alone, of an address that holds none', () => {
    const DATABASE_PASSWORD_FILE = fileOf('password', 'p@ss/w:rd%\n');
    const { databaseUrl = '' } = loadConfig({ DATABASE_URL: 'postgresql://studio@db/wares', DATABASE_PASSWORD_FILE });
    expect(databaseUrl).toBe('postgresql://studio:p%40ss%2Fw%3Ard%25@db/wares');
    expect(decodeURIComponent(new URL(databaseUrl).password)).toBe('p@ss/w:rd%');
  });

  test('is held to what the variable itself must be, and never shown', () => {
    const DATABASE_URL_FILE = fileOf('wrong', 's3cret\n');
    expect(() => loadConfig({ DATABASE_URL_FILE })).toThrow('DATABASE_URL must be such as postgresql://');
    expect(() => loadConfig({ DATABASE_URL_FILE })).not.toThrow(/s3cret/);
    const SMTP_URL_FILE = fileOf('lonely', 'smtp://mail.example');
    expect(() => loadConfig({ SMTP_URL_FILE })).toThrow('SMTP_URL needs MAIL_FROM');
  });

  test('must be there, hold something, and be the only one', () => {
    const away = join(folder, 'away');
    expect(() => loadConfig({ DATABASE_URL_FILE: away })).toThrow(
      "DATABASE_URL_FILE must be a file that holds DATABASE_URL; this one can't be read (ENOENT).",
    );
    expect(() => loadConfig({ SMTP_URL_FILE: folder })).toThrow("this one can't be read (EISDIR).");
    expect(() => loadConfig({ SMTP_URL_FILE: fileOf('empty', ' \n') })).toThrow('this one is empty.');
    const DATABASE_URL = 'postgresql://u:p@db/z';
    expect(() => loadConfig({ DATABASE_URL, DATABASE_URL_FILE: fileOf('second', DATABASE_URL) })).toThrow(
      'DATABASE_URL and DATABASE_URL_FILE are both set. Use only one of them.',
    );
  });
});
