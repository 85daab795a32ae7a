type Kind =
  | 'taxRate'
  | 'room'
  | 'refundPolicy'
  | 'staff'
  | 'board'
  | 'person'
  | 'material'
  | 'supplier'
  | 'order'
  | 'mix'
  | 'kiln'
  | 'schedule'
  | 'plan'
  | 'course'
  | 'booking'
  | 'firing'
  | 'sale'
  | 'voucher'
  | 'membershipKind';

/** The seeds name things by their names; this knows the id that each was given. */
export class IdRegistry {
  readonly #ids = new Map<string, string>();

  keep(kind: Kind, name: string, { id }: { id: string }): void {
    this.#ids.set(`${kind} ${name}`, id);
  }

  /** @throws Error where the seeds speak of something that they never made */
  id(kind: Kind, name: string): string {
    const id = this.#ids.get(`${kind} ${name}`);
    if (id === undefined) throw new Error(`The seeds have no ${kind} named "${name}".`);
    return id;
  }
}
