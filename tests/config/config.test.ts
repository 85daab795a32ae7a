import { describe, expect, test } from 'vitest';
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
    [{ TRUST_PROXY: 'yes' }, 'TRUST_PROXY must be true, false, the number of proxies'],
    [{ TRUST_PROXY: 'bad' }, 'TRUST_PROXY must be'],
    [{ SMTP_URL: 'mail.example:25', MAIL_FROM: 'a@b.example' }, 'SMTP_URL must be such as smtps://'],
    [{ SMTP_URL: 'smtp://mail.example' }, 'SMTP_URL needs MAIL_FROM beside it'],
    [{ MAIL_FROM: 'The Clay Room' }, 'MAIL_FROM must be an address such as'],
    [{ MAIL_FROM: 'a@b.example\r\nBcc: c@d.example' }, 'MAIL_FROM must be'],
    [{ LOG_LEVEL: 'loud' }, 'LOG_LEVEL must be one of fatal, error, warn, info, debug, trace, silent.'],
  ])('is refused with what is allowed: %j', (env, message) => {
    expect(() => loadConfig(env)).toThrow(CannotStart);
    expect(() => loadConfig(env)).toThrow(message);
  });

  test('is named together with every other, and never shown', () => {
    const env = { PORT: 'x', LOG_LEVEL: 'y', DATABASE_URL: 'postgresq://u:s3cret@db/z' };
    expect(() => loadConfig(env)).toThrow(/DATABASE_URL .*\n.*PORT .*\n.*LOG_LEVEL /);
    expect(() => loadConfig(env)).not.toThrow(/s3cret/);
  });
});
