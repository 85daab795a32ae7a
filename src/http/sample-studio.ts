import type { FastifyRequest } from 'fastify';

export type SampleStatus = {
  state: 'absent' | 'loading' | 'ready' | 'failed' | 'impossible';
  /** why it failed or can't be, and what to do */
  detail: string | null;
};

/** What the process that serves a studio can do with the invented one. */
export interface SampleStudio {
  getStatus(): Promise<SampleStatus>;
  /** Begins to make it unless it is there; it takes half a minute. @throws Problem sample-impossible */
  make(request: FastifyRequest): Promise<SampleStatus>;
  /** Serves it, and lets whoever asks in as its owner. @throws Problem sample-impossible */
  visit(request: FastifyRequest): Promise<{ url: string; session: string }>;
  /** Deletes it with all that was done in it. @throws Problem sample-impossible while it is made */
  remove(): Promise<SampleStatus>;
}

export type SampleOf = {
  /** The address of the studio that it is beside; null where there is none, as for the demo. */
  ownStudio(request: FastifyRequest): string | null;
};
