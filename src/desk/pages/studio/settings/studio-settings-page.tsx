import { useCallback, useRef, useState } from 'preact/hooks';
import { minorDigits } from '../../../../trade/money/money.js';
import { api, Refused, type Schemas, signInFirst } from '../../../api/client';
import { further, type Headers } from '../../../api/idempotency-key';
import { useOpened, useQuery } from '../../../api/query';
import { type Me, useMe } from '../../../api/use-me';
import { useMutation } from '../../../api/use-mutation';
import { ErrorMessage } from '../../../forms/error-message';
import { Layout } from '../../../ui/layout';
import { useTitle } from '../../../ui/use-title';
import { StudioTabs } from '../studio-tabs';
import { amountFaults, type Difference, differences, studioOf, textOf, USUAL } from './form-values';
import { LogoSection, readLogo } from './logo-section';
import type { StudioText } from './studio-fields';
import { StudioForm } from './studio-form';
import { getUnusedRoom, type Unused } from './unused-room';

type Known = {
  rates: Schemas['TaxRate'][];
  studio: Schemas['Studio'] | null;
  /** What must still hold when the form is saved. */
  asRead: { 'if-match': string } | { 'if-none-match': '*' };
};

const QUESTION = 'Studio settings';
const UNREAD = 'Nothing was saved yet: an amount can’t be read. What is wrong is shown at its field.';
const CHANGED =
  'Nothing was saved yet: somebody else saved the studio while this form was open. What you typed is still here. Look through the differences, enter the values you want, and save again.';

/** Enters a new studio, or changes what is said of one. */
export function StudioSettingsPage() {
  useTitle(QUESTION);
  const { data: me, error } = useMe();
  if (error && signInFirst(error)) return null;
  if (!me) return <main aria-busy={!error}>{error && <ErrorMessage>{error.message}</ErrorMessage>}</main>;
  return me.rights.includes('settings:write') ? <Settings me={me} /> : <OwnersOnly me={me} />;
}

/** What is there when the page is opened stays in the form, whatever is read again for the rest of the page. */
function Settings({ me }: { me: Me }) {
  const read = useCallback((signal: AbortSignal) => readSettings(me, signal), []);
  const { opened: known, error } = useOpened({ key: ['studio settings'], read });
  // asked for with the form, in which they are shown
  const enabled = me.studio !== null;
  const logo = useQuery({ key: ['logo'], read: readLogo, enabled });
  const { data: unused = null } = useQuery({ key: ['unused room'], read: getUnusedRoom, enabled }); // the form is there without it
  if (error && signInFirst(error)) return null;
  if (!known) return <main aria-busy={!error}>{error && <ErrorMessage>{error.message}</ErrorMessage>}</main>;
  if (known.studio)
    return (
      <Layout me={me} question={QUESTION} narrow>
        <StudioTabs me={me} />
        <p class="answer">What prices, receipts and notices go by.</p>
        <OneStudio {...{ me, known, unused }} />
        <LogoSection query={logo} />
      </Layout>
    );
  return (
    <main class="form">
      <h1>{QUESTION}</h1>
      <p class="answer">A few figures make prices come out right. What you don’t know yet can stay as it is.</p>
      <p>
        Or <a href="/studio/sample">look at a sample studio</a> first.
      </p>
      <OneStudio {...{ me, known, unused }} />
    </main>
  );
}

/** The studio's own figures stand in the form; the usual ones, while it has none. */
function OneStudio({ me, known: { studio, rates, asRead }, unused }: { me: Me; known: Known; unused: Unused | null }) {
  const current = useRef(asRead);
  const [refused, setRefused] = useState<Refused | null>(null);
  const [changes, setChanges] = useState<Difference[]>([]);
  const saving = useMutation();
  const refuse = (error: unknown) => {
    if (!signInFirst(error)) setRefused(error instanceof Refused ? error : new Refused('unknown', String(error)));
  };
  const save = async (typed: StudioText & { tax: string }) => {
    const faults = amountFaults(typed);
    if (faults.length > 0) return setRefused(new Refused('invalid-request', UNREAD, faults));
    const isSaved = await saving.run([typed, current.current], async (headers) => {
      try {
        const rateId = studio ? typed.tax : await standardRate(typed.tax, further(headers, 1));
        const body = studioOf(typed, rateId);
        await api.PUT('/api/studio', { body, headers: { ...headers, ...current.current } });
      } catch (error) {
        if (error instanceof Refused && error.type === '/problems/changed-meanwhile')
          await compare(typed).catch(refuse);
        else refuse(error);
        throw error;
      }
    });
    if (isSaved) location.assign('/');
  };
  /** What was typed stays in the form; saved once more, it counts over what somebody else has saved meanwhile. */
  const compare = async (typed: StudioText) => {
    const now = await readSettings(me);
    current.current = now.asRead;
    setChanges(now.studio ? differences(typed, textOf(now.studio, digitsOf(now.studio.currency))) : []);
    setRefused(new Refused('changed-meanwhile', CHANGED));
  };
  const values = studio ? textOf(studio, digitsOf(studio.currency)) : { ...USUAL, timeZone: here(), locale: tongue() };
  return (
    <StudioForm
      {...{ values, rates, refused, changes, unused, save }}
      busy={saving.busy}
      taxRateId={studio?.firingTaxRateId ?? null}
    />
  );
}

/** A tutor who opens the page by its address. */
function OwnersOnly({ me }: { me: Me }) {
  return (
    <Layout me={me} question={QUESTION} narrow>
      <p class="answer">Only an owner sees and changes the studio’s figures.</p>
      <p>
        <a href="/">Today</a>
      </p>
    </Layout>
  );
}

/** With a signal unless it is a part of saving, which nobody breaks off. */
async function readSettings(me: Me, signal: AbortSignal | null = null): Promise<Known> {
  const [rates, found] = await Promise.all([
    api.GET('/api/tax-rates', { signal }),
    me.studio ? api.GET('/api/studio', { signal }) : null,
  ]);
  const etag = found?.response.headers.get('etag');
  return {
    rates: rates.data?.items ?? [],
    studio: found?.data ?? null,
    asRead: etag ? { 'if-match': etag } : { 'if-none-match': '*' },
  };
}

/** The rate of that percentage, made where the studio has none yet: a second try after a refusal must not make another. */
async function standardRate(percent: string, headers: Headers): Promise<string> {
  const known = await api.GET('/api/tax-rates');
  const name = `Standard ${percent}%`;
  const same = known.data?.items.find((rate) => rate.name === name);
  if (same) return same.id;
  const made = await api.POST('/api/tax-rates', { body: { name, kind: 'standard', percent }, headers });
  return made.data?.id ?? '';
}

/** The browser's language; some call it by what is no language tag, such as "en-US@posix". */
function tongue(): string {
  try {
    return Intl.getCanonicalLocales(navigator.language)[0] ?? USUAL.locale;
  } catch {
    return USUAL.locale;
  }
}

const here = () => Intl.DateTimeFormat().resolvedOptions().timeZone;

function digitsOf(currency: string): number {
  try {
    return minorDigits(currency);
  } catch {
    return 2; // no currency at all: the server says so
  }
}
