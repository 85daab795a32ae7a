import { Page } from '../page';

/** How long does the clay last? */
export function ShelfPage() {
  return (
    <Page question="How long does it last?" read={async () => null}>
      {() => null}
    </Page>
  );
}
