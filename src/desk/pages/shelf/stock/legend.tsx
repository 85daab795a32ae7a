/** How to read the drawings. */
export function Legend() {
  return (
    <p class="legend">
      <span>
        <svg class="sample" viewBox="0 0 24 14" height="14" aria-hidden="true">
          <path class="expected" d="M0 3H12V10H24" />
        </svg>
        left, as expected
      </span>
      <span>
        <svg class="sample" viewBox="0 0 24 14" height="14" aria-hidden="true">
          <rect class="likely" width="24" height="13" />
          <path class="worst" d="M0 13H24" />
        </svg>
        range: bookings only to worst 1 in 10
      </span>
      <span>
        <svg class="sample" viewBox="0 0 24 14" height="14" aria-hidden="true">
          <rect class="missing" y="3" width="24" height="11" />
          <line class="plank" x2="24" y1="2" y2="2" />
        </svg>
        below the line: short
      </span>
    </p>
  );
}
