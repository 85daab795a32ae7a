export const PHOTO_TYPES = ['image/jpeg', 'image/png', 'image/webp'] as const;
type PhotoType = (typeof PHOTO_TYPES)[number];

const starts = (bytes: Buffer, signature: string, at = 0) =>
  bytes.subarray(at, at + signature.length).toString('latin1') === signature;

/** What kind of picture it is by its first bytes, whatever its sender calls it; null where it is none of the three. */
export function photoType(bytes: Buffer): PhotoType | null {
  if (starts(bytes, '\xff\xd8\xff')) return 'image/jpeg';
  if (starts(bytes, '\x89PNG\r\n\x1a\n')) return 'image/png';
  if (starts(bytes, 'RIFF') && starts(bytes, 'WEBP', 8)) return 'image/webp';
  return null;
}
