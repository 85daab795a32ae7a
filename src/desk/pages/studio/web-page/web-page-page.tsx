import { useEffect, useRef } from 'preact/hooks';
import { api, Refused, type Schemas } from '../../../api/client';
import type { Me } from '../../../api/use-me';
import { useMutation } from '../../../api/use-mutation';
import { CheckboxField } from '../../../forms/checkbox-field';
import { ErrorMessage } from '../../../forms/error-message';
import { Field } from '../../../forms/field';
import { Page } from '../../../ui/page';
import { useCopy } from '../../../ui/use-copy';
import { StudioTabs } from '../studio-tabs';

type Answer = { settings: Schemas['WebPage']; etag: string; html: string };

async function readWebPage(_: Me, signal: AbortSignal): Promise<Answer> {
  const [{ data: settings, response }, { data: fragment }] = await Promise.all([
    api.GET('/api/web-page', { signal }),
    api.GET('/api/web-page/fragment', { signal }),
  ]);
  if (!settings || !fragment) throw new Refused('unknown', 'The web page could not be loaded. Load the page again.');
  return { settings, etag: response.headers.get('etag') ?? '', html: fragment.html };
}

/** May the studio's own web page show its coming courses, and how does it get them? */
export function WebPagePage() {
  return (
    <Page question="Web page" tabs={(me) => <StudioTabs me={me} />} read={readWebPage}>
      {(answer) => <Shown {...answer} />}
    </Page>
  );
}

function Shown({ settings, etag, html }: Answer) {
  return (
    <>
      <p class="answer">
        {settings.isOn
          ? 'Anyone can see your coming courses with the places left.'
          : 'Your coming courses are not shown outside the studio.'}
      </p>
      <p>
        Courses and open studio that have not begun are shown with their times, the price, places left, and your
        studio’s name and address. Nobody who comes is named, and private sessions are never shown.
      </p>
      <Switches {...{ settings, etag }} />
      {settings.isOn && <Addresses settings={settings} />}
      <Preview html={html} />
    </>
  );
}

function Switches({ settings: { isOn, namesTutors, takesRequests }, etag }: Pick<Answer, 'settings' | 'etag'>) {
  const mutation = useMutation({ thenRead: true });
  const save = (body: Schemas['WebPageSettings']) =>
    mutation.run([body, etag], (headers) =>
      api.PUT('/api/web-page', { body, headers: { ...headers, 'if-match': etag } }),
    );
  return (
    <>
      <CheckboxField checked={namesTutors} onChange={(namesTutors) => save({ isOn, namesTutors, takesRequests })}>
        Say who teaches
      </CheckboxField>
      <CheckboxField checked={takesRequests} onChange={(takesRequests) => save({ isOn, namesTutors, takesRequests })}>
        Let people ask for a place: they wait on Today until you answer
      </CheckboxField>
      <p class="acts">
        <button
          type="button"
          class={isOn ? 'quiet' : undefined}
          aria-disabled={mutation.busy}
          onClick={() => save({ isOn: !isOn, namesTutors, takesRequests })}
        >
          {isOn ? 'Stop showing courses' : 'Show coming courses'}
        </button>
      </p>
      {mutation.error && <ErrorMessage>{mutation.error}</ErrorMessage>}
    </>
  );
}

function Addresses({ settings: { addresses, opensHereOnly } }: Pick<Answer, 'settings'>) {
  return (
    <section aria-labelledby="addresses">
      <h2 id="addresses">Put it on your web page</h2>
      {opensHereOnly && (
        <p class="fault">
          These addresses work only on the computer that runs Wareboard, because you opened Wareboard there. Set
          BASE_URL to the address people use, and load this page again.
        </p>
      )}
      <Copied
        label="To paste into your page"
        hint="Where the courses should appear; your page’s own style is used"
        what="snippet"
        text={snippetOf(addresses.html)}
      />
      <Copied
        label="Courses as HTML"
        hint="For anyone who builds your page"
        what="HTML address"
        text={addresses.html}
      />
      <Copied
        label="Courses as data"
        hint="For search engines and programs"
        what="data address"
        text={addresses.json}
      />
      <Copied
        label="Calendar"
        hint="For anyone who wants your courses in their own calendar"
        what="calendar address"
        text={addresses.ics}
      />
    </section>
  );
}

/** In one line, as a field of one line shows it. Where the studio can't be reached, the page stays as it is. */
const snippetOf = (address: string): string =>
  `<div id="wareboard-courses"></div><script>fetch(${JSON.stringify(address)}).then(function (answer) { return answer.ok ? answer.text() : ""; }).then(function (html) { document.getElementById("wareboard-courses").innerHTML = html; }).catch(function () {});</script>`;

function Copied({ label, hint, what, text }: { label: string; hint: string; what: string; text: string }) {
  const { control, copy, said } = useCopy(text, 'It');
  return (
    <>
      <Field label={label} hint={hint} value={text} control={control} readOnly />
      <p class="acts">
        <button type="button" class="quiet" onClick={copy}>
          Copy {what}
        </button>
        <span role="status">{said}</span>
      </p>
    </>
  );
}

/** As people will see it, but for the style of the page that it is put into. */
function Preview({ html }: { html: string }) {
  const at = useRef<HTMLDivElement>(null);
  useEffect(() => {
    const { body } = new DOMParser().parseFromString(html, 'text/html'); // nothing in it runs, whatever it is
    at.current?.replaceChildren(...body.childNodes);
  }, [html]);
  return (
    <section aria-labelledby="preview">
      <h2 id="preview">What people see</h2>
      <div ref={at} />
    </section>
  );
}
