import { z } from 'zod';

// zod words its own refusals for programmers, and in American English. These are ours: each completes "The name ..." with what to do.

type RawIssue = z.core.$ZodRawIssue;

const KINDS: Record<string, string> = {
  string: 'must be text',
  number: 'must be a number',
  int: 'must be a whole number',
  nan: 'must be left out',
  bigint: 'must be a whole number',
  boolean: 'must be true or false',
  array: 'must be a list',
  tuple: 'must be a list',
  set: 'must be a list',
  object: 'must be an object with fields of its own',
  record: 'must be an object with fields of its own',
  map: 'must be an object with fields of its own',
  date: 'must be a date',
  file: 'must be a file',
  null: 'must be null',
  undefined: 'must be left out',
  void: 'must be left out',
  never: 'must be left out',
  nonoptional: 'is required',
};

const FORMATS: Record<string, string> = {
  email: 'must be an email address, for example hello@studio.example',
  url: 'must be a web address, for example https://studio.example',
  uuid: 'must be an id, as the lists show it',
  guid: 'must be an id, as the lists show it',
  date: 'must be a day of the calendar, for example 2026-03-31',
  time: 'must be a time of day, for example 18:30:00',
  datetime: 'must be a day and time with its time zone, for example 2026-03-31T18:30:00Z',
  duration: 'must be a length of time, for example PT2H30M',
  ipv4: 'must be an IP address, for example 192.0.2.1',
  ipv6: 'must be an IP address, for example 2001:db8::1',
  base64: 'must be written in base64',
  base64url: 'must be written in base64url',
  json_string: 'must be JSON',
  e164: 'must be a telephone number with its country code, for example +442079460000',
  lowercase: 'must be in small letters',
  uppercase: 'must be in capital letters',
};

/** What stands where a contract says nothing better of its own; tests ask that no request's contract needs it. */
const NO_BETTER_WORDS = 'must be written another way: see the description of this field';

/** Our words for what zod found wrong. */
export function describeIssue(issue: RawIssue): string {
  if (issue.input === undefined && REQUIRED.has(issue.code))
    return issue.code === 'invalid_value' ? `is required: ${listOf(issue.values)}` : 'is required';
  switch (issue.code) {
    case 'invalid_type':
      return KINDS[issue.expected] ?? NO_BETTER_WORDS;
    case 'invalid_value':
      return `must be ${listOf(issue.values)}`;
    case 'too_small':
      return limit(issue.origin, issue.minimum, issue.exact ? 'exactly' : issue.inclusive ? 'at least' : 'more than');
    case 'too_big':
      return limit(issue.origin, issue.maximum, issue.exact ? 'exactly' : issue.inclusive ? 'at most' : 'less than');
    case 'not_multiple_of':
      return issue.divisor === 1 ? 'must be a whole number' : `must be a multiple of ${written(issue.divisor)}`;
    case 'invalid_format':
      return formatWords(issue);
    case 'unrecognized_keys':
      return `has what is not a field of this request: ${issue.keys.join(', ')}`;
    case 'invalid_union':
      return unionWords(issue);
    case 'invalid_key':
      return 'has a name that is not allowed here';
    case 'invalid_element':
      return 'has an entry that is not allowed here';
    default:
      return NO_BETTER_WORDS;
  }
}

const REQUIRED = new Set(['invalid_type', 'invalid_value', 'invalid_union']);

/** Two numbers of one size are told apart by what they count. */
function limit(origin: string, value: number | bigint | unknown, how: string): string {
  const n = Number(value);
  switch (origin) {
    case 'string':
      return n === 1 && how === 'at least'
        ? 'must not be empty'
        : `must have ${how} ${counted(n, 'character', 'characters')}`;
    case 'array':
    case 'set':
    case 'map':
    case 'object':
      return `must have ${how} ${counted(n, 'entry', 'entries')}`;
    case 'date':
      return `must be ${how === 'at least' ? 'no earlier' : 'no later'} than ${new Date(n).toISOString()}`;
    case 'file':
      return `must have ${how} ${counted(n, 'byte', 'bytes')}`;
    default:
      return n === 0 && how === 'more than' ? 'must be more than zero' : `must be ${how} ${written(n)}`;
  }
}

function formatWords(issue: Extract<RawIssue, { code: 'invalid_format' }>): string {
  const { format } = issue;
  if (format === 'starts_with') return `must begin with ${issue.prefix}`;
  if (format === 'ends_with') return `must end with ${issue.suffix}`;
  if (format === 'includes') return `must have ${issue.includes} in it`;
  return FORMATS[format] ?? NO_BETTER_WORDS;
}

/** The kinds that a field may choose between; what is wrong with the nearest of them is said by listFaults. */
function unionWords(issue: Extract<RawIssue, { code: 'invalid_union' }>): string {
  if ('options' in issue && Array.isArray(issue.options)) return `must be ${listOf(issue.options)}`;
  return 'must be one of the kinds that are described here';
}

const written = (n: unknown) =>
  typeof n === 'number' ? n.toLocaleString('en-GB', { maximumFractionDigits: 9 }) : String(n);
const counted = (n: number, one: string, many: string) => (n === 1 ? `one ${one}` : `${written(n)} ${many}`);

/** "bisque, glaze or lustre" */
function listOf(values: readonly unknown[]): string {
  const all = values.map((value) => (value === '' ? 'empty' : String(value)));
  const last = all.pop() ?? '';
  return all.length === 0 ? last : `${all.join(', ')} or ${last}`;
}

z.config({ localeError: describeIssue });
