import { Page } from '../page';

/** What must happen today? */
export function TodayPage() {
  return (
    <Page question="What must happen today?" read={async () => null}>
      {() => null}
    </Page>
  );
}
