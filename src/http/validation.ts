import type { z } from 'zod';
import { describeIssue } from './validation-words.js';

type Issue = z.core.$ZodIssue;

/** One thing that is wrong, and where: an RFC 6901 pointer into the request. */
interface FieldFault {
  pointer: string;
  detail: string;
}

/**
 * What is wrong with a request, each at the very field. A field too many is named itself, not what holds it; where one of several kinds
 * may be sent, the kind that was meant is judged.
 * @param place where the content stands: `#` for the body, `#/querystring` for what follows the question mark
 */
export function listFaults(issues: readonly Issue[], place = '#'): FieldFault[] {
  const faults = issues.flatMap((issue) => faultsOf(issue, place));
  const seen = new Set<string>();
  return faults.filter(({ pointer, detail }) => {
    const said = `${pointer} ${detail}`;
    return !seen.has(said) && seen.add(said);
  });
}

function faultsOf(issue: Issue, place: string): FieldFault[] {
  const here = issue.path.reduce<string>(pointTo, place);
  if (issue.code === 'unrecognized_keys')
    return issue.keys.map((key) => ({ pointer: pointTo(here, key), detail: 'is not a field of this request' }));
  if (issue.code === 'invalid_union') return unionFaults(issue, here);
  return [{ pointer: here, detail: issue.message }];
}

/** Of the kinds that a field may be, the one that comes nearest to what was sent; if none is of its shape, all of them are named. */
function unionFaults(issue: Extract<Issue, { code: 'invalid_union' }>, here: string): FieldFault[] {
  const ofItsShape = issue.errors.filter((faults) => !faults.some(isOfAnotherShape));
  const [nearest] = ofItsShape.sort((a, b) => a.length - b.length);
  if (nearest) return listFaults(nearest, here);
  const isOurs = issue.message === describeIssue({ ...issue, input: null } as never);
  const ways = [...new Set(issue.errors.flatMap((faults) => faults.map(({ message }) => message)))];
  if (!isOurs || ways.length === 0) return [{ pointer: here, detail: issue.message }];
  const [first = '', ...others] = ways;
  return [{ pointer: here, detail: [first, ...others.map((way) => way.replace(/^must be /, ''))].join(', or ') }];
}

const isOfAnotherShape = ({ code, path }: Issue) =>
  path.length === 0 && (code === 'invalid_type' || code === 'invalid_value' || code === 'invalid_format');

const pointTo = (place: string, part: PropertyKey) =>
  `${place}/${String(part).replaceAll('~', '~0').replaceAll('/', '~1')}`;
