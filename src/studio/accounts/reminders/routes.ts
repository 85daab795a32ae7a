import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { read } from '../../../http/read.js';
import { Id, LocalDate } from '../../../http/types.js';
import { write } from '../../../http/write.js';
import { refuses } from '../../../problems.js';
import { localDay } from '../../../trade/calendar/calendar.js';
import { preview, previewOf } from '../../notices/preview.js';
import { getStudio } from '../../settings/service.js';
import { Reminder } from '../contract.js';
import { listDebtors } from '../reports.js';
import { debtorsCsv } from './debtors-csv.js';
import { sendReminder } from './reminders.js';

const tags = ['accounts'];

export const reminderRoutes: FastifyPluginAsyncZod = async (app) => {
  const params = z.object({ personId: Id });
  const refused = refuses('not-found', 'nothing-owed', 'already-reminded', 'set-up-missing');
  app.post(
    '/people/:personId/reminders',
    {
      config: { right: 'money:write' },
      schema: { tags, params, summary: 'Remind a person of what is due', response: { 201: Reminder, ...refused } },
    },
    (request, reply) => write(request, reply, 201, (tx, now) => sendReminder(tx, now, request.params.personId)),
  );
  app.post(
    '/people/:personId/reminders/preview',
    {
      config: { right: 'money:write', keyless: true },
      schema: {
        ...{ tags, params, summary: 'A reminder as it would be sent; changes nothing' },
        response: { 200: previewOf(Reminder), ...refused },
      },
    },
    (request) => preview(request, (tx, now) => sendReminder(tx, now, request.params.personId)),
  );
  app.get(
    '/debtors.csv',
    {
      config: { right: 'money:read' },
      schema: {
        tags,
        summary: 'Who owes what, a line for each charge, for a spreadsheet',
        querystring: z.strictObject({
          on: LocalDate.optional().meta({ description: 'What is due by this day; today.' }),
        }),
        response: {
          200: { description: 'The list', content: { 'text/csv': { schema: z.string() } } },
          ...refuses('set-up-missing'),
        },
      },
    },
    async (request, reply) => {
      const { on, csv } = await read(request, async (tx, now) => {
        const studio = await getStudio(tx);
        const day = request.query.on ?? localDay(now, studio.timeZone);
        return { on: day, csv: debtorsCsv(await listDebtors(tx, day), studio.currency) };
      });
      reply.header('content-disposition', `attachment; filename="owed-${on}.csv"`).type('text/csv; charset=utf-8');
      return reply.serializer((text) => text as never).send(csv);
    },
  );
};
