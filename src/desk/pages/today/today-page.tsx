import '../../charts/boards.css';
import './today.css';
import { api, Refused, type Schemas } from '../../api/client';
import type { Me } from '../../api/use-me';
import type { Formatter } from '../../format/formatter';
import { Phrases } from '../../format/phrases';
import { type At, Page } from '../../ui/page';
import { Boards } from './boards';
import { Firings } from './firings';
import { FirstSteps, isNewStudio } from './first-steps';
import type { Today } from './labels';
import { Mail } from './mail';
import { Orders } from './orders';
import { Debts } from './receivables';
import { Refunds } from './refunds';
import { PlaceRequests, type Requests } from './requests';
import { Sessions } from './sessions';
import { sentencesOf } from './summary';

type Known = { today: Today; requests: Requests | null; isNew: boolean };

/** More stand in line; each that is answered makes room for the next. */
const REQUESTS_SHOWN = 10;

async function readToday(me: Me, signal: AbortSignal): Promise<Known> {
  const query = { state: 'open', limit: REQUESTS_SHOWN } as const;
  const [{ data }, asked, isNew] = await Promise.all([
    api.GET('/api/today', { signal }),
    me.rights.includes('money:read') ? api.GET('/api/place-requests', { params: { query }, signal }) : null,
    isNewStudio(me, signal),
  ]);
  if (!data) throw new Refused('unknown', 'Today’s page could not be loaded. Please reload it.');
  return { today: data, requests: asked?.data ?? null, isNew };
}

const QUESTION = 'What’s on today?';
/** A page that hangs on the wall must say of which day it is. */
const dated = ({ today }: Schemas['Me'], formatter: Formatter) => `What’s on today, ${formatter.longDay(today)}?`;

type Right = Schemas['Me']['rights'][number];

/** What’s on today? */
export function TodayPage() {
  return (
    <Page question={QUESTION} asked={dated} read={readToday}>
      {(known, at) => <Day {...known} {...at} />}
    </Page>
  );
}

function Day({ today, requests, isNew, me, formatter }: At & Known) {
  const shared = { today, formatter };
  const may = (right: Right) => me.rights.includes(right);
  return (
    <>
      <p class="answer">
        <Phrases of={sentencesOf(today, formatter, requests?.total ?? 0)} />
      </p>
      {isNew && <FirstSteps />}
      <div class="day-and-ware">
        <div class="day-side today">
          <PlaceRequests {...{ requests, formatter }} mayAnswer={may('money:write')} />
          <Sessions {...shared} maySell={may('money:write')} />
          <Firings {...shared} mayBill={may('money:write')} />
          <Orders {...shared} />
          <Debts {...shared} />
          <Refunds {...shared} />
          <Mail {...shared} />
        </div>
        <Boards {...shared} {...{ may }} />
      </div>
    </>
  );
}
