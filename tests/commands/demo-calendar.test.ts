import { describe, expect, test } from 'vitest';
import { readSeeds, shiftTo } from '../../src/commands/demo/seeds.js';
import { teachingDays } from '../../src/commands/demo/teaching-days.js';
import { addDays, daysBetween, instantAt } from '../../src/trade/calendar/calendar.js';

const seeds = await readSeeds();
const { timeZone } = seeds.studio;

/** Every week for 28 years, after which the weekdays of a year come round again. */
const WEEKS = 28 * 53;
const weeks = Array.from({ length: WEEKS }, (_, i) => addDays(seeds.seededOn, 7 * i));

/** The least time between a making session and the glazing after it, by the plans of the seeds: seven days of drying, and a bisque. */
const GLAZING_GAP_HOURS = 24 * 7 + 36;

const taughtIn = (today: string) => {
  const shift = shiftTo(today, seeds.seededOn, timeZone);
  const days = teachingDays(seeds.sessions, shift);
  return { shift, days, sessions: seeds.sessions.map((session, i) => ({ ...session, day: days[i] ?? '' })) };
};

describe('wherever the weeks of the seeds come to fall', () => {
  test('nobody teaches on Christmas, Boxing Day or New Year’s Eve', () => {
    const moved = weeks.map((today) => {
      const { shift, days } = taughtIn(today);
      for (const day of days) expect(day).not.toMatch(/-12-25$|-12-26$|-12-31$/);
      return seeds.sessions.filter(({ day }, i) => shift.day(day) !== days[i]).length;
    });
    expect(Math.max(...moved)).toBeGreaterThan(1); // so the rule is put to the test at all
  });

  test('no room and no tutor is wanted twice at once, and each course keeps its order', () => {
    const faults = weeks.flatMap((today) => {
      const { sessions, shift } = taughtIn(today);
      const moved = sessions.filter(({ day }, i) => day !== shift.day(seeds.sessions[i]?.day ?? ''));
      return moved.flatMap((a) => {
        const others = sessions.filter((b) => b !== a);
        const clashes = others.filter((b) => a.day === b.day && a.from < b.to && b.from < a.to);
        const days = sessions.filter(({ course }) => course === a.course).map(({ day }) => day);
        const inOrder = days.every((day, i) => i === 0 || (days[i - 1] ?? '') < day);
        return [...clashes.map((b) => `${a.course} and ${b.course} on ${a.day}`), ...(inOrder ? [] : [days.join()])];
      });
    });
    expect(faults).toEqual([]);
  });

  test('everybody has booked before their course begins, and its ware is fired before it is glazed', () => {
    const faults: string[] = [];
    for (const today of weeks) {
      const { sessions, shift } = taughtIn(today);
      const of = (course: string) => sessions.filter((session) => session.course === course);
      for (const { course, at } of seeds.bookings) {
        const [first] = of(course);
        const begins = instantAt(first?.day ?? '', first?.from ?? '', timeZone);
        if (shift.moment(at) >= begins) faults.push(`${course}, booked ${at}, when today is ${today}`);
      }
      for (const { called, plan } of seeds.courses) {
        const purposes = (seeds.plans.find(({ name }) => name === plan)?.sessions ?? []) as { purpose: string }[];
        const glazing = purposes.findIndex(({ purpose }) => purpose === 'glazing');
        const [made, glazed] = [of(called)[glazing - 1], of(called)[glazing]];
        if (!made || !glazed) continue;
        const hours = daysBetween(made.day, glazed.day) * 24;
        if (hours < GLAZING_GAP_HOURS) faults.push(`${called} when today is ${today}`);
      }
    }
    expect(faults).toEqual([]);
  });
});
