/** From the middle to the right what makes a price dearer, to the left what makes it cheaper. */
export function Bar({ percent }: { percent: number }) {
  const x = `${Math.min(50, 50 + percent)}%`;
  return (
    <svg height="16" aria-hidden="true">
      <rect class={percent > 0 ? 'hangs' : 'stands'} x={x} width={`${Math.abs(percent)}%`} y="3" height="10" />
      <line class="mark" x1="50%" x2="50%" y1="0" y2="16" />
    </svg>
  );
}
