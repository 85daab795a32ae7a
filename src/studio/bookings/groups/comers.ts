/** Who comes, for a letter: a line each, also for those of a group who have no name yet. */
export const comersOf = ({
  attendees,
  unnamed,
}: {
  attendees: readonly { name: string }[];
  unnamed: number;
}): string[] => [
  ...attendees.map(({ name }) => name),
  ...Array.from({ length: unnamed }, (_, i) => `guest ${attendees.length + i + 1}`),
];
