/**
 * Where to go after signing in: an address of the desk itself, or Today. A link from outside must not send people elsewhere after they
 * typed a password. What counts is what a browser makes of it: tabs and line breaks are dropped, and `\\` is taken for `/`.
 */
export function placeAfter(then: string | undefined, origin: string): string {
  if (then === undefined || !then.startsWith('/') || !URL.canParse(then, origin)) return '/';
  const { origin: leadsTo, pathname, search, hash } = new URL(then, origin);
  // the path is written anew from what was read: "/.//else.example" would be read as another host the second time
  return leadsTo === origin && !pathname.startsWith('//') ? `${pathname}${search}${hash}` : '/';
}
