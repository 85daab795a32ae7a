import type { Schemas } from '../../api/client';

export type Person = Schemas['Person'];

/** The fields as text; a person who is not known yet has none. */
export const valuesOf = (person: Person | null) => ({
  name: person?.name ?? '',
  paperName: person?.paperName ?? '',
  email: person?.email ?? '',
  phone: person?.phone ?? '',
  addressLines: person?.addressLines.join('\n') ?? '',
  memberSince: person?.memberSince ?? '',
  isChild: person?.isChild ? 'child' : '',
  wishes: person?.wishes ?? '',
  note: person?.note ?? '',
});

/** What is sent of them: an empty field says nothing, and each line of the address is one of its lines on paper. */
export function bodyOf(values: ReturnType<typeof valuesOf>) {
  const said = (text: string) => text.trim() || null;
  return {
    name: values.name.trim(),
    paperName: said(values.paperName),
    email: said(values.email),
    phone: said(values.phone),
    addressLines: values.addressLines
      .split('\n')
      .map((line) => line.trim())
      .filter(Boolean),
    memberSince: said(values.memberSince),
    isChild: values.isChild === 'child',
    ...{ wishes: said(values.wishes), note: said(values.note) },
  };
}
