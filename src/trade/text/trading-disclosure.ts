/** Who is behind a studio: a person or partners who trade under another name, or a company. */
export type Trader = {
  /** the name it trades under */
  name: string;
  /** their own names, or the company's registered one; null where it is the name above */
  legalName: string | null;
  /** an address for service, or the registered office; null where it is the address above */
  legalAddress: string | null;
  companyNumber: string | null;
  registeredIn: string | null;
};

/**
 * Says on papers and in letters who is behind the name of a studio, in one line. In the UK a person or partners who trade under a name
 * that is not theirs give their own names and an address at which papers can be served on them (Companies Act 2006 ss 1200 to 1204);
 * a company gives its registered name and number, where it is registered, and its registered office (Companies Act 2006 s82, SI 2015/17
 * regs 24 and 25). Both from memory: what a studio must say is a question for its accountant.
 *
 * @returns null where there is nothing to say
 */
export function tradingDisclosure(trader: Trader): string | null {
  const { name, legalName, companyNumber, registeredIn } = trader;
  if (legalName === null && companyNumber === null) return null;
  // it stands below the studio's address on papers and in letters, and a second line costs a short notice its page
  const address = trader.legalAddress ?? 'as above';
  const behind = legalName === null || legalName === name ? null : `${name} is a business name of ${legalName}`;
  if (companyNumber === null) return behind && `${behind}. Address for service: ${address}.`;
  const registered = `egistered in ${registeredIn}, company number ${companyNumber}. Registered office: ${address}.`;
  return behind === null ? `R${registered}` : `${behind}, r${registered}`;
}
