import { z } from 'zod';

export const WebPageSettings = z
  .strictObject({
    isOn: z.boolean().meta({ description: 'Whether anyone can read coming courses without signing in.' }),
    namesTutors: z.boolean().meta({ description: 'Whether they say who teaches.' }),
    takesRequests: z.boolean().meta({
      description: 'Whether anyone may ask for a place on them, which the owner answers; only while `isOn`.',
    }),
  })
  .meta({ id: 'WebPageSettings' });
export type WebPageSettings = z.output<typeof WebPageSettings>;

export const WebPage = z
  .object({
    ...WebPageSettings.shape,
    addresses: z
      .object({ json: z.string(), html: z.string(), ics: z.string() })
      .meta({ description: 'Where they can be read while it is on.' }),
    opensHereOnly: z.boolean().meta({ description: 'The addresses lead to this computer alone.' }),
  })
  .meta({ id: 'WebPage', description: "What the studio's own web page may show." });
export type WebPage = z.output<typeof WebPage>;
