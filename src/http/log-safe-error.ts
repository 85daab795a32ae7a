import { sqlState } from '../database/sqlstate.js';

/** Errors whose messages quote what people entered: rows, values, addresses. */
const QUOTES_PEOPLE = /^(Prisma|DriverAdapter|MailNotSent|error$)/;

/** An error as the log may keep it: where it happened and by which code, but nothing of whom it happened to. */
export function logSafeError(error: unknown) {
  if (!(error instanceof Error)) return { name: typeof error };
  const { name, message, stack = '' } = error;
  const frames = stack.split('\n').filter((line) => /^\s+at /.test(line));
  return {
    name,
    code: (error as { code?: unknown }).code,
    sqlState: sqlState(error),
    ...(QUOTES_PEOPLE.test(name) ? {} : { message }),
    stack: frames.map((line) => line.trim()).join('\n'),
  };
}
