import { Page } from '../page';

/** Who owes? */
export function OwesPage() {
  return (
    <Page question="Who owes?" read={async () => null}>
      {() => null}
    </Page>
  );
}
