import { createHash } from 'node:crypto';
import type { FastifyError, FastifyInstance, FastifyReply } from 'fastify';
import { z } from 'zod';
import { Problem } from '../problems.js';

/** Bytes that came as they are. Where a request is told from another, their hash stands for them. */
export class Upload {
  constructor(readonly bytes: Buffer) {}

  toJSON(): string {
    return createHash('sha256').update(this.bytes).digest('hex');
  }
}

type Pictures = {
  /** In a sentence: "photo". */
  what: string;
  types: readonly string[];
  bytesMax: number;
  /** As it is said: "5 MB". */
  atMost: string;
};

/** Has the routes of this plugin take pictures as raw bytes and nothing else, and refuse in words of pictures. */
export function acceptPictures(app: FastifyInstance, { what, types, bytesMax, atMost }: Pictures): void {
  app.removeAllContentTypeParsers();
  app.addContentTypeParser([...types], { parseAs: 'buffer', bodyLimit: bytesMax }, (_request, bytes, done) =>
    done(null, new Upload(bytes as Buffer)),
  );
  app.setErrorHandler((error: FastifyError) => {
    if (error instanceof Problem) throw error;
    if (error.statusCode === 413)
      throw new Problem('too-large', `The ${what} is larger than ${atMost}. Make it smaller and send it again.`);
    if (error.statusCode === 415)
      throw new Problem('wrong-media-type', `Send the ${what} as ${types.slice(0, -1).join(', ')} or ${types.at(-1)}.`);
    throw error;
  });
}

/** The answer that is a picture, for a route's contract. */
export const pictureAnswer = (description: string, types: readonly string[]) => ({
  description,
  content: Object.fromEntries(types.map((type) => [type, { schema: z.any() }])),
});

/** Sends a picture that never changes; a browser that guessed at its kind could be made to run it. */
export function sendPicture(reply: FastifyReply, picture: { mediaType: string; image: Uint8Array }) {
  reply.header('cache-control', 'private, max-age=31536000, immutable').header('x-content-type-options', 'nosniff');
  reply.header('content-disposition', 'inline').type(picture.mediaType);
  return reply.serializer((bytes) => bytes as never).send(Buffer.from(picture.image));
}
