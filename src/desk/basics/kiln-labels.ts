import type { Schemas } from '../api/client';
import { centimetres } from '../format/piece';

type Kiln = Schemas['Kiln'];
type Schedule = Schemas['Schedule'];

const MM3_PER_LITRE = 1_000_000;
const HOUR_MINUTES = 60;

/** "104 litres, 45 by 45 cm, 51 cm high", inside. */
export function chamberOf({ chamberMm3, widthMm, depthMm, heightMm, shape }: Kiln): string {
  const across =
    shape === 'round' ? `${centimetres(widthMm)} cm across` : `${centimetres(widthMm)} by ${centimetres(depthMm)} cm`;
  return `${Math.round(chamberMm3 / MM3_PER_LITRE)} litres, ${across}, ${centimetres(heightMm)} cm high`;
}

/** "9 hours 40 minutes". */
export function lasting(minutes: number): string {
  const hours = Math.floor(minutes / HOUR_MINUTES);
  const rest = minutes % HOUR_MINUTES;
  const parts = [hours > 0 && `${hours} ${hours === 1 ? 'hour' : 'hours'}`, rest > 0 && `${rest} min`];
  return parts.filter(Boolean).join(' ') || '0 min';
}

/** "60 °C an hour to 600 °C, held 30 min". */
export function stepOf({ ratePerHourC, targetC, holdMinutes }: Schedule['segments'][number]): string {
  const step = `${ratePerHourC} °C an hour to ${targetC} °C`;
  return holdMinutes > 0 ? `${step}, held ${lasting(holdMinutes)}` : step;
}
