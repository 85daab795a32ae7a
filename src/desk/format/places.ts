import type { Schemas } from '../api/client';

type Places = Pick<Schemas['ListedCourse'], 'places' | 'placesTaken' | 'placesMadeUp'>;

/** How many places of a course are left in every one of its sessions, those who make one up there among the people. */
export const placesLeftOn = ({ places, placesTaken, placesMadeUp }: Places): number =>
  Math.max(0, places - placesTaken - placesMadeUp);
