import { useTitle } from './title';

export function Nowhere() {
  useTitle('Where is this?');
  return (
    <main>
      <h1>Where is this?</h1>
      <p class="answer">Nothing lies at this address.</p>
      <p>
        <a href="/">What must happen today?</a>
      </p>
    </main>
  );
}
