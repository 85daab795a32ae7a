import '../look/boards.css';
import '../look/today.css';
import { api, Refused, type Schemas } from '../client';
import { type At, Page } from '../page';
import { Phrases } from '../phrases';
import type { Tell } from '../tell';
import { Boards } from './boards';
import { Debts } from './debts';
import { Firings } from './firings';
import { Mail } from './mail';
import { Orders } from './orders';
import { Refunds } from './refunds';
import { sentencesOf } from './sentence';
import { Sessions } from './sessions';
import type { Today } from './words';

async function readToday(): Promise<Today> {
  const { data } = await api.GET('/api/today');
  if (!data) throw new Refused('unknown', 'The server does not say what today brings. Load the page again.');
  return data;
}

const QUESTION = 'What must happen today?';
/** A page that hangs on the wall must say of which day it is. */
const dated = ({ today }: Schemas['Me'], tell: Tell) => `What must happen today, ${tell.longDay(today)}?`;

/** What must happen today? */
export function TodayPage() {
  return (
    <Page question={QUESTION} asked={dated} read={readToday}>
      {(today, at) => <Day today={today} {...at} />}
    </Page>
  );
}

function Day({ today, tell }: At & { today: Today }) {
  const shared = { today, tell };
  return (
    <>
      <p class="answer">
        <Phrases of={sentencesOf(today, tell)} />
      </p>
      <div class="day-and-ware">
        <div class="day-side today">
          <Sessions {...shared} />
          <Firings {...shared} />
          <Orders {...shared} />
          <Debts {...shared} />
          <Refunds {...shared} />
          <Mail {...shared} />
        </div>
        <Boards {...shared} />
      </div>
    </>
  );
}
