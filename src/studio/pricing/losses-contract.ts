import { z } from 'zod';

const ByStage = <T extends z.ZodType>(of: T) => z.object({ making: of, bisque: of, glaze: of, lustre: of });

export const Losses = z
  .object({
    lost: ByStage(z.int()).meta({
      description: 'Pieces: before any firing, or in which one, or after it and before the next.',
    }),
    reach: ByStage(z.string()).meta({
      description:
        'Of what is lost, how much had got at least so far, in percent; an assumption counts as 20 pieces more.',
    }),
  })
  .meta({ id: 'Losses' });
