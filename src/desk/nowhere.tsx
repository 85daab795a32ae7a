import { Heading } from './heading';
import { useTitle } from './title';

export function Nowhere() {
  useTitle('Where is this?');
  return (
    <main>
      <Heading>Where is this?</Heading>
      <p class="answer">Nothing lies at this address.</p>
      <p>
        <a href="/">What must happen today?</a>
      </p>
    </main>
  );
}
