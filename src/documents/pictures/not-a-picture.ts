/** Bytes that can't be drawn, with what is wrong and what to do, for whoever sent them. */
export class NotAPicture extends Error {}

export const cutOff = () =>
  new NotAPicture(
    'The picture is damaged or cut off. Save it again in the program that made it, and upload that file.',
  );
