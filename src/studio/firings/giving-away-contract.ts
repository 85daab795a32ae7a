import { z } from 'zod';
import { PrintedLine } from '../../documents/printable.js';
import { Id, SingleLine } from '../../http/types.js';
import { PieceStage } from '../ware/contract.js';

export const GivingAway = z
  .strictObject({
    pieceIds: PieceStage.shape.pieceIds,
    to: PrintedLine(120).meta({ description: 'To whom: a school fair, a neighbour.' }),
    note: z.union([z.literal(''), SingleLine(300)]).default(''),
  })
  .meta({ id: 'GivingAway' });
export type GivingAway = z.output<typeof GivingAway>;
export const GivenAway = z
  .object({
    ...{ pieceId: Id, code: z.string(), description: z.string() },
    use: z.enum(['decorative', 'statement', 'laboratory']),
    caution: z.string().meta({ description: 'To be passed on with it, in writing.' }),
  })
  .meta({ id: 'GivenAway' });
export type GivenAway = z.output<typeof GivenAway>;
