import { count, type Formatter } from '../../format/formatter';
import { joined, type Phrase, sentence } from '../../format/phrases';
import { by, type Firing, firingCalled, orderCalled, type Session, since, type Today, when } from './labels';

type Clause = Phrase[];

/** How many of a kind are named in the sentence; more are counted. */
const NAMED_MAX = 2;

/** What must happen today, in one or two sentences; each phrase leads to its place on the page. */
export function sentencesOf(today: Today, formatter: Formatter, requests = 0): Phrase[] {
  const doing = [
    ...answering(requests),
    ...firingClauses(today, formatter),
    ...teaching(today, formatter),
    ...ordering(today, formatter),
  ];
  const standing = [
    ...inTheKiln(today, formatter),
    ...waiting(today),
    ...owing(today, formatter),
    ...refunding(today, formatter),
    ...undelivered(today),
  ];
  const first =
    doing.length > 0
      ? sentence(joined(doing))
      : [...sentence(['nothing needs doing today']), ...next(today, formatter)];
  return [...first, ...sentence(joined(standing))];
}

/** Who asked for a place on the web page. */
const answering = (requests: number): Clause[] =>
  requests === 0
    ? []
    : [
        [
          'answer ',
          { text: count(requests, 'request for a place', 'requests for a place'), to: '#requests', tone: 'amber' },
        ],
      ];

function firingClauses({ firings, day, now }: Today, formatter: Formatter): Clause[] {
  const verbs: [Firing['do'], string, (firing: Firing) => string][] = [
    ['unload', 'unload', ({ coldSince }) => (coldSince ? ` (cold ${since(coldSince, day, formatter)})` : '')],
    ['load', 'load', ({ from }) => ` (it ${from < now ? 'was to start' : 'starts'} ${when(from, day, formatter)})`],
    [
      'start',
      'start',
      ({ from }) =>
        from < now ? ` (it was to start ${when(from, day, formatter)})` : ` ${when(from, day, formatter)}`,
    ],
    ['settle', 'bill', () => ''],
  ];
  return verbs.flatMap(([todo, verb, more]) => {
    const own = firings.filter((firing) => firing.do === todo);
    if (own.length === 0) return [];
    if (own.length > NAMED_MAX) return [[`${verb} `, { text: count(own.length, 'firing'), to: '#firings' }]];
    return [[`${verb} `, ...joined(own.map((firing) => [linkTo(firing), more(firing)]))]];
  });
}

const linkTo = (firing: Firing) => ({ text: `${firingCalled(firing)}`, to: `#firing-${firing.number}` });

function teaching({ sessions: all, nextSessionsOn, day, now }: Today, formatter: Formatter): Clause[] {
  const sessions = all.filter(({ endsAt }) => endsAt > now);
  if (nextSessionsOn || sessions.length === 0) return [];
  if (sessions.length > NAMED_MAX)
    return [
      [
        'teach ',
        { text: count(sessions.length, 'session'), to: '#sessions' },
        ` from ${formatter.time(sessions[0]?.startsAt ?? '')}`,
      ],
    ];
  return [['teach ', ...joined(sessions.map((session) => taught(session, when(session.startsAt, day, formatter))))]];
}

const taught = ({ title, booked }: Session, at: string): Clause => [
  { text: title, to: '#sessions' },
  ` ${at} (${booked === 1 ? '1 booked' : `${booked} booked`})`,
];

/** What must be ordered, and what must be mixed. */
function ordering({ orders, day }: Today, formatter: Formatter): Clause[] {
  const all = (isMixed: boolean) => orders.filter((order) => order.isMixed === isMixed);
  return [...asking('order ', all(false), day, formatter), ...asking('mix ', all(true), day, formatter)];
}

function asking(verb: string, orders: Today['orders'], day: string, formatter: Formatter): Clause[] {
  const [first] = orders;
  if (!first) return [];
  if (orders.length > NAMED_MAX)
    return [
      [
        verb,
        { text: count(orders.length, 'material'), to: '#orders', tone: 'iron' },
        `, the first ${by(first.orderBy, day, formatter)}`,
      ],
    ];
  return [
    [
      verb,
      ...joined(
        orders.map((order) => [
          {
            text: orderCalled(order, formatter),
            to: '#orders',
            tone: order.sure || order.orderBy < day ? 'iron' : 'amber',
          },
          ` ${by(order.orderBy, day, formatter)}`,
        ]),
      ),
    ],
  ];
}

function inTheKiln({ firings, day }: Today, formatter: Formatter): Clause[] {
  return firings
    .filter((firing) => firing.do === 'wait')
    .map((firing) => [linkTo(firing), ` can be unloaded ${when(firing.to, day, formatter)}`]);
}

function waiting({ boards, collection }: Today): Clause[] {
  const late = boards.find(({ waiting }) => waiting === 'collection')?.lateInAll ?? 0;
  if (late === 0 || collection.longestDays === null) return [];
  const [has, longest] = late === 1 ? ['has', ''] : ['have', ' up to'];
  return [
    [
      { text: count(late, 'piece'), to: '#board-collection', tone: 'amber' },
      ` ${has} waited${longest} ${collection.longestDays} days to be collected`,
    ],
  ];
}

function owing({ debts }: Today, { moneyInText }: Formatter): Clause[] {
  if (!debts || debts.people === 0) return [];
  const all = debts.dueMinor === debts.owedMinor ? 'all of it' : moneyInText(debts.dueMinor);
  const due = debts.dueMinor > 0 ? ` (${all} is due)` : '';
  return [
    [
      { text: count(debts.people, 'person', 'people'), to: '#owes', tone: debts.dueMinor > 0 ? 'iron' : undefined },
      ` still ${debts.people === 1 ? 'owes' : 'owe'} ${moneyInText(debts.owedMinor)}${due}`,
    ],
  ];
}

/** What is to be paid back since a place that was given up is filled again. */
function refunding({ refundsDue }: Today, { moneyInText }: Formatter): Clause[] {
  if (!refundsDue || refundsDue.length === 0) return [];
  const sum = refundsDue.reduce((total, { amountMinor }) => total + amountMinor, 0);
  const [one, ...more] = refundsDue;
  return [
    [
      { text: more.length === 0 ? 'a refund' : `${count(refundsDue.length, 'refund')}`, to: '#refunds', tone: 'iron' },
      more.length === 0
        ? ` of ${moneyInText(sum)} is due to ${one?.personName}`
        : ` totalling ${moneyInText(sum)} are due`,
    ],
  ];
}

function undelivered({ mail }: Today): Clause[] {
  if (!mail || mail.failed.length === 0) return [];
  return [[{ text: count(mail.failed.length, 'email'), to: '#mail', tone: 'iron' }, ' did not arrive']];
}

/** What comes next, on a day on which nothing must happen any more. */
function next({ sessions, nextSessionsOn, day }: Today, formatter: Formatter): Phrase[] {
  const [first] = sessions;
  if (!first) return ['No session is planned yet. '];
  if (!nextSessionsOn) return ['Today’s sessions are over. '];
  return ['Next comes ', { text: first.title, to: '#sessions' }, ` ${when(first.startsAt, day, formatter)}. `];
}
