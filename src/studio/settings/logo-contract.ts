import { z } from 'zod';
import { Instant } from '../../http/types.js';

export const StudioLogo = z
  .object({
    logo: z
      .object({
        sha256: z.string().meta({ description: 'Of its bytes; it is shown under this name.' }),
        mediaType: z.enum(['image/png', 'image/jpeg']),
        widthPx: z.int(),
        heightPx: z.int(),
        addedAt: Instant,
      })
      .nullable()
      .meta({ description: 'What new papers show at the top; null where they show none.' }),
  })
  .meta({ id: 'StudioLogo' });
export type StudioLogo = z.output<typeof StudioLogo>;
