import { fetchAllPages } from '../../../api/all-pages';
import { api, isAnswer, Refused, type Schemas } from '../../../api/client';
import { listCoursePlans } from '../../../api/lists';
import { getPlanPrice } from '../plan-price';

export type Plan = Schemas['CoursePlan'];
export type PlanBody = Schemas['NewCoursePlan'];
export type Purpose = Plan['sessions'][number]['purpose'];
export type Piece = Plan['pieces'][number];
export type Course = Schemas['CourseDates'];

/** What a plan can be made of, and how the studio reckons. */
export type Workshop = {
  materials: Schemas['StockedMaterial'][];
  kilns: Schemas['Kiln'][];
  /** how full each kiln usually is */
  fills: Schemas['KilnFills'][];
  schedules: Schemas['Schedule'][];
  tiles: Schemas['TestTile'][];
  taxRates: Schemas['TaxRate'][];
  rooms: Schemas['Room'][];
  studio: Schemas['Studio'];
  /** of pieces lost, how many had got so far, in percent */
  reach: Schemas['Losses']['reach'];
};

/** What a plan would cost if it ran today, and its next course. */
export type PriceInShort = Schemas['PlanPriceInShort'];

/** All plans, each with its price. */
export async function readPlans(signal: AbortSignal): Promise<{ plans: Plan[]; prices: PriceInShort[] }> {
  const [plans, prices] = await Promise.all([
    listCoursePlans(signal),
    fetchAllPages('what your plans cost', (query) => api.GET('/api/plan-prices', { params: { query }, signal })),
  ]);
  return { plans, prices };
}

export async function readWorkshop(): Promise<Workshop> {
  const [materials, kilns, fills, schedules, tiles, rates, rooms, studio, losses] = await Promise.all([
    fetchAllPages('what is on the shelf', (query) => api.GET('/api/materials', { params: { query } })),
    fetchAllPages('which kilns there are', (query) => api.GET('/api/kilns', { params: { query } })),
    fetchAllPages('how full the kilns usually are', (query) => api.GET('/api/kiln-fills', { params: { query } })),
    fetchAllPages('which schedules there are', (query) => api.GET('/api/schedules', { params: { query } })),
    fetchAllPages('which test tiles there are', (query) => api.GET('/api/test-tiles', { params: { query } })),
    api.GET('/api/tax-rates'),
    api.GET('/api/rooms'),
    api.GET('/api/studio'),
    api.GET('/api/losses'),
  ]);
  if (!studio.data || !losses.data)
    throw new Refused('unknown', 'The studio’s settings could not be loaded. Please reload the page.');
  return {
    materials,
    kilns,
    fills,
    schedules,
    tiles,
    taxRates: rates.data?.items ?? [],
    rooms: rooms.data?.items ?? [],
    studio: studio.data,
    reach: losses.data.reach,
  };
}

/** A plan as it stands, with the tag that says which state of it was read. */
export type Opened = { plan: Plan; etag: string };

export async function openPlan(planId: string): Promise<Opened> {
  const { data, response } = await api.GET('/api/course-plans/{planId}', { params: { path: { planId } } });
  if (!data) throw new Refused('unknown', 'The plan could not be loaded. Please reload the page.');
  return { plan: data, etag: response.headers.get('etag') ?? '' };
}

/** What the calendar has of a plan: the next course that is still to begin or going on, the last of all, and how many there are. */
export type InCalendar = { next: Course | null; last: Course | null; all: number; allIsMinimum: boolean };

export async function findCoursesOfPlan(planId: string, signal: AbortSignal): Promise<InCalendar> {
  const query = { planId, limit: 1 };
  const [ahead, all] = await Promise.all([
    api.GET('/api/courses', { params: { query: { ...query, is: 'ahead', order: 'firstDay' } }, signal }),
    api.GET('/api/courses', { params: { query: { ...query, order: 'firstDayLast' } }, signal }),
  ]);
  const { items: [last = null] = [], total = 0, totalIsMinimum = false } = all.data ?? {};
  return { next: ahead.data?.items[0] ?? null, last, all: total, allIsMinimum: totalIsMinimum };
}

/** A plan's price where it has one; a group's is worked out for each session. */
export async function findPlanPrice(
  planId: string,
  signal: AbortSignal,
): Promise<Pick<PriceInShort, 'fairPriceMinor' | 'refusal'>> {
  try {
    const { result } = await getPlanPrice(planId, '', signal);
    return { fairPriceMinor: result.fairPriceMinor, refusal: null };
  } catch (error) {
    if (!isAnswer(error)) throw error;
    return { fairPriceMinor: null, refusal: error.message };
  }
}

/** What a course needs besides its plan. */
export type Places = {
  rooms: Schemas['Room'][];
  refundPolicies: Schemas['RefundPolicy'][];
  /** those who teach; empty where one may not see them */
  staff: Schemas['StaffMember'][];
  /** days on which the studio is closed */
  closures: Schemas['Closure'][];
  /** the last course of the plan, of which most is usually as it was */
  last: Schemas['Course'] | null;
};

export async function readPlaces(me: Schemas['Me'], lastCourseId: string | undefined): Promise<Places> {
  const [rooms, policies, closures, staff, last] = await Promise.all([
    api.GET('/api/rooms'),
    api.GET('/api/refund-policies'),
    api.GET('/api/closures'),
    me.rights.includes('staff:write') ? api.GET('/api/staff') : null,
    lastCourseId ? api.GET('/api/courses/{courseId}', { params: { path: { courseId: lastCourseId } } }) : null,
  ]);
  return {
    rooms: rooms.data?.items ?? [],
    refundPolicies: policies.data?.items ?? [],
    staff: staff?.data?.items ?? [],
    closures: closures.data?.items ?? [],
    last: last?.data ?? null,
  };
}
