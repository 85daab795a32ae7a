import { fetchAllPages } from '../../../api/all-pages';
import { api, Refused, type Schemas } from '../../../api/client';
import { listCoursePlans, listCourses } from '../../../api/lists';

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

/** All plans, and the courses that stand on them. */
export async function readPlans(_: Schemas['Me'], signal: AbortSignal): Promise<{ plans: Plan[]; courses: Course[] }> {
  const [plans, courses] = await Promise.all([listCoursePlans(signal), listCourses(signal)]);
  return { plans, courses };
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

/** The next course of a plan that is still to begin or going on, the last of all, and how many stand on it. */
export function coursesOfPlan(planId: string, courses: readonly Course[]) {
  const start = ({ sessions }: Course) => sessions[0]?.startsAt ?? '';
  const own = courses.filter((course) => course.planId === planId).sort((a, b) => start(a).localeCompare(start(b)));
  const next = own.find(({ completedOn }) => completedOn === null) ?? null;
  return { next, last: own.at(-1) ?? null, all: own.length };
}

/** What a course needs besides its plan. */
export type Places = {
  rooms: Schemas['Room'][];
  refundPolicies: Schemas['RefundPolicy'][];
  /** those who teach; empty where one may not see them */
  staff: Schemas['StaffMember'][];
  /** the last course of the plan, of which most is usually as it was */
  last: Schemas['Course'] | null;
};

export async function readPlaces(me: Schemas['Me'], lastCourseId: string | undefined): Promise<Places> {
  const [rooms, policies, staff, last] = await Promise.all([
    api.GET('/api/rooms'),
    api.GET('/api/refund-policies'),
    me.rights.includes('staff:write') ? api.GET('/api/staff') : null,
    lastCourseId ? api.GET('/api/courses/{courseId}', { params: { path: { courseId: lastCourseId } } }) : null,
  ]);
  return {
    rooms: rooms.data?.items ?? [],
    refundPolicies: policies.data?.items ?? [],
    staff: staff?.data?.items ?? [],
    last: last?.data ?? null,
  };
}
