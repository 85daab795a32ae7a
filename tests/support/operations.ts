import type { App } from '../../src/server/app.js';
import { newCode } from '../../src/trade/text/ware-code.js';

type Schema = Record<string, unknown>;
type Content = Record<string, { schema?: Schema }>;
interface Parameter {
  in: 'path' | 'query' | 'header';
  name: string;
  required?: boolean;
  schema: Schema;
}

/** One thing that the API does, as its own document tells it. */
export interface Operation {
  /** Such as "POST /api/people". */
  name: string;
  method: 'GET' | 'POST' | 'PUT' | 'PATCH' | 'DELETE';
  path: string;
  tags: string[];
  security: Partial<Record<'session' | 'token', string[]>>[];
  parameters: Parameter[];
  body: Schema | undefined;
  responses: Record<string, { description: string; content?: Content }>;
}

type Documented = Partial<Operation> & { requestBody?: { content: Content } };

/** Everything that the OpenAPI document of an app tells. */
export async function operations(app: App): Promise<Operation[]> {
  await app.ready();
  const paths = app.swagger().paths as Record<string, Record<string, Documented>>;
  return Object.entries(paths).flatMap(([path, methods]) =>
    Object.entries(methods).map(([method, told]) => ({
      name: `${method.toUpperCase()} ${path}`,
      method: method.toUpperCase() as Operation['method'],
      path,
      tags: told.tags ?? [],
      security: told.security ?? [],
      parameters: told.parameters ?? [],
      body: told.requestBody?.content['application/json']?.schema,
      responses: told.responses ?? {},
    })),
  );
}

const SOME_ID = '0199a0a0-0000-7000-8000-000000000000';

/** An address at which nothing is kept. */
export const somewhere = (path: string) => path.replace('{code}', newCode(4000)).replace(/\{\w+\}/g, SOME_ID);

let callers = 0;

/** An address to call from that nobody else has: so many requests from one would be too many. */
export const elsewhere = () => `10.0.${(++callers >> 8) % 256}.${callers % 256}`;
