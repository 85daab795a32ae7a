import { type Logger, pino } from 'pino';
import type { Config } from '../config.js';

/** The program's log: one JSON line each to standard error, so that a command's own output stays readable. */
export function openLog({ logLevel }: Pick<Config, 'logLevel'>): Logger {
  return pino({ level: logLevel, base: null, timestamp: pino.stdTimeFunctions.isoTime }, pino.destination(2));
}
