import { promisify } from 'node:util';
import { brotliCompress, constants, gzip } from 'node:zlib';
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';

/** Below this an answer fits a packet or two, and is sooner sent than compressed. */
const BYTES_MIN = 2048;
/** The middle between the time that it takes and what it saves; the desk's files, compressed once, take the highest. */
const BROTLI_QUALITY = 4;

const ways = {
  br: (text: string) =>
    promisify(brotliCompress)(text, { params: { [constants.BROTLI_PARAM_QUALITY]: BROTLI_QUALITY } }),
  gzip: (text: string) => promisify(gzip)(text),
};
type Way = keyof typeof ways;

/**
 * Compresses what is long among the answers to GET. The answer to a POST stays as it is, since it may bear a new token beside what was sent,
 * and the length of both compressed together would let a listener guess at the token (BREACH, CVE-2013-3587); no GET shows a secret: the
 * session's is in a header, those of tokens and links in the one answer that made them. What bears a strong tag stays too: such a
 * tag may stand for one encoding only (RFC 9110 s.8.8.3.3), and If-Match needs a strong one.
 */
export function compressAnswers(app: FastifyInstance): void {
  app.addHook('onSend', async (request, reply, payload) => {
    if (typeof payload !== 'string' || !isForCompressing(request, reply)) return payload;
    const { vary } = reply.getHeaders();
    reply.header('vary', vary === undefined ? 'Accept-Encoding' : `${vary}, Accept-Encoding`);
    const way = encodingFor(String(request.headers['accept-encoding'] ?? ''));
    if (way === undefined || Buffer.byteLength(payload) < BYTES_MIN) return payload;
    reply.header('content-encoding', way).removeHeader('content-length');
    return ways[way](payload);
  });
}

function isForCompressing({ method, routeOptions }: FastifyRequest, reply: FastifyReply): boolean {
  return (
    method === 'GET' &&
    reply.statusCode === 200 &&
    !routeOptions.config.tagged &&
    !String(reply.getHeader('etag') ?? 'W/').startsWith('"') &&
    !reply.hasHeader('content-encoding') &&
    /^(application\/json|text\/)/.test(String(reply.getHeader('content-type')))
  );
}

/** The better of our ways among those that a client takes (RFC 9110 s.12.5.3); of two that it likes as well, brotli. */
export function encodingFor(header: string): Way | undefined {
  const weights = new Map(
    header.split(',').map((one) => {
      const [name = '', ...parameters] = one
        .toLowerCase()
        .split(';')
        .map((part) => part.trim());
      const q = parameters.find((each) => each.startsWith('q='));
      return [name, q === undefined ? 1 : Number(q.slice(2)) || 0] as const;
    }),
  );
  const weightOf = (way: Way) => weights.get(way) ?? weights.get('*') ?? 0;
  const taken = (['br', 'gzip'] as const).filter((way) => weightOf(way) > 0);
  return taken.sort((a, b) => weightOf(b) - weightOf(a))[0];
}
