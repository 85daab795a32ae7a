/** What a 401 says of how to be let in (RFC 9110 s.11.6.1, RFC 6750 s.3), and a 403 of what a token lacks. */
export const wwwAuthenticate = (...attributes: string[]): string =>
  ['Bearer realm="Wareboard"', ...attributes].join(', ');
