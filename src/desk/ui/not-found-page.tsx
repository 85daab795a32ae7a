import { Heading } from './heading';
import { useTitle } from './use-title';

export function NotFoundPage() {
  useTitle('Page not found');
  return (
    <main>
      <Heading>Page not found</Heading>
      <p class="answer">This page doesn’t exist.</p>
      <p>
        <a href="/">What’s on today?</a>
      </p>
    </main>
  );
}
