import { Decimal } from '../../../../trade/money/money.js';
import type { Formatter } from '../../../format/formatter';
import { afterSaleInWords } from './labels';
import type { Material } from './queries';

type Props = { quantity: number; material: Material; formatter: Formatter };

/** What the shelf holds as one length, to scale: what stays, what goes, and what goes beyond the books. */
export function Going({ quantity, material, formatter }: Props) {
  const { onHand } = material;
  const all = Math.max(quantity, onHand);
  const share = (part: number) => `${new Decimal(part).div(all).times(100).toFixed(3)}%`;
  const stays = Math.max(0, onHand - quantity);
  const goes = Math.min(quantity, onHand);
  return (
    <div class="going">
      <svg height="29" aria-hidden="true">
        <rect class="stays" x="0" y="1" height="26" width={share(stays)} />
        <rect class="goes" x={share(stays)} y="1" height="26" width={share(goes)} />
        <rect class="beyond" x={share(stays + goes)} y="1" height="26" width={share(quantity - goes)} />
        <line class="plank" x1="0" x2="100%" y1="27.5" y2="27.5" />
      </svg>
      <p class={quantity > onHand ? 'amber' : 'quiet'}>{afterSaleInWords(quantity, material, formatter)}</p>
    </div>
  );
}
