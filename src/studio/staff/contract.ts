import { z } from 'zod';
import { PrintedLine } from '../../documents/printable.js';
import { RIGHTS, TOKEN_RIGHTS } from '../../http/rights.js';
import { Email, Id, Instant, LocalDate, SingleLine, UpTo } from '../../http/types.js';

const LowerEmail = Email.transform((email) => email.toLowerCase());
const NewPassword = UpTo(200).min(10).meta({ description: 'At least 10 characters; a few words are best.' });

export const SetUp = z
  .strictObject({
    token: UpTo(200).min(20).meta({ description: 'From the set-up link that the server prints.' }),
    name: PrintedLine(80),
    email: LowerEmail,
    password: NewPassword,
  })
  .meta({ id: 'SetUp' });
export type SetUp = z.output<typeof SetUp>;

export const Credentials = z
  .strictObject({ email: LowerEmail, password: UpTo(200).min(1) })
  .meta({ id: 'Credentials' });
export type Credentials = z.output<typeof Credentials>;

const ROLES = ['owner', 'tutor'] as const;

export const NewStaffMember = z
  .strictObject({ name: PrintedLine(80), email: LowerEmail, role: z.enum(ROLES) })
  .meta({ id: 'NewStaffMember' });
export type NewStaffMember = z.output<typeof NewStaffMember>;

export const StaffMember = z
  .object({ id: Id, name: z.string(), email: z.string(), role: z.enum(ROLES) })
  .meta({ id: 'StaffMember' });
export type StaffMember = z.output<typeof StaffMember>;

const LINK_PURPOSES = ['invitation', 'password'] as const;
export type LinkPurpose = (typeof LINK_PURPOSES)[number];

const PasswordLink = z
  .object({
    purpose: z.enum(LINK_PURPOSES),
    createdAt: Instant,
    expiresAt: Instant,
    works: z.boolean().meta({ description: 'False once its time is over.' }),
    mail: z.object({
      state: z.enum(['waiting', 'sent', 'written', 'failed', 'notMailed']),
      detail: z.string().nullable(),
    }),
  })
  .meta({ id: 'PasswordLink' });

export const StaffEntry = StaffMember.extend({
  state: z.enum(['invited', 'active', 'removed']),
  removedAt: Instant.nullable(),
  passwordLink: PasswordLink.nullable().meta({ description: 'The latest link, unless it was used or withdrawn.' }),
  comingSessions: z.int().meta({ description: 'How many sessions they are to teach from now on.' }),
}).meta({ id: 'StaffEntry' });
export type StaffEntry = z.output<typeof StaffEntry>;

export const StaffEntryWithLink = StaffEntry.extend({
  linkAddress: z.string().nullable().meta({
    description: 'Where they choose their password. Shown this once; null where the same request is sent again.',
  }),
  opensHereOnly: z
    .boolean()
    .meta({ description: 'Whether the address opens only on the machine that runs Wareboard.' }),
}).meta({ id: 'StaffEntryWithLink' });

const LinkToken = UpTo(200).min(20).meta({ description: 'What comes after the # of the link.' });

export const OpenedLink = z.strictObject({ token: LinkToken }).meta({ id: 'OpenedLink' });

export const LinkOwner = z
  .object({
    ...{ name: z.string(), email: z.string(), role: z.enum(ROLES), purpose: z.enum(LINK_PURPOSES) },
    studioName: z.string().nullable().meta({ description: 'Null until the studio has been entered.' }),
    expiresAt: Instant,
  })
  .meta({ id: 'LinkOwner' });
export type LinkOwner = z.output<typeof LinkOwner>;

export const PasswordByLink = z
  .strictObject({ token: LinkToken, password: NewPassword })
  .meta({ id: 'PasswordByLink' });

export const PasswordChange = z
  .strictObject({ currentPassword: UpTo(200).min(1), password: NewPassword })
  .meta({ id: 'PasswordChange' });

export const SessionsEnded = z
  .object({ sessionsEnded: z.int().meta({ description: 'On other devices; this one stays signed in.' }) })
  .meta({ id: 'SessionsEnded' });
export type SessionsEnded = z.output<typeof SessionsEnded>;

export const Me = z
  .object({
    ...StaffMember.shape,
    rights: z.array(z.enum(RIGHTS)),
    studio: z
      .object({ name: z.string(), currency: z.string(), locale: z.string(), timeZone: z.string() })
      .nullable()
      .meta({ description: 'Null until the studio has been entered.' }),
    sample: z
      .object({
        ownStudio: z.string().nullable().meta({ description: 'The address of one’s own studio, if there is one.' }),
      })
      .nullable()
      .meta({ description: 'Set where this is the invented studio: nothing in it is real.' }),
    today: z.iso.date(),
  })
  .meta({ id: 'Me' });
export type Me = z.output<typeof Me>;

export const TOKEN_DAYS_MAX = 365;

export const NewApiToken = z
  .strictObject({
    name: SingleLine(80).meta({ description: 'What it is for, such as the website.' }),
    rights: z.array(z.enum(TOKEN_RIGHTS)).min(1).max(TOKEN_RIGHTS.length),
    lastDay: LocalDate.meta({ description: `The last day on which it works, at most ${TOKEN_DAYS_MAX} days away.` }),
  })
  .meta({ id: 'NewApiToken' });
export type NewApiToken = z.output<typeof NewApiToken>;

export const ApiToken = z
  .object({
    id: Id,
    name: z.string(),
    prefix: z.string().meta({ description: 'Its first letters, by which to know it.' }),
    rights: z.array(z.enum(RIGHTS)),
    madeBy: z.string(),
    createdAt: Instant,
    endsAt: Instant,
    lastUsedAt: Instant.nullable().meta({ description: 'To within five minutes.' }),
    revokedAt: Instant.nullable(),
  })
  .meta({ id: 'ApiToken' });
export type ApiToken = z.output<typeof ApiToken>;

export const MadeApiToken = ApiToken.extend({
  token: z.string().nullable().meta({ description: 'Shown this once; null where the same request is sent again.' }),
}).meta({ id: 'MadeApiToken' });
