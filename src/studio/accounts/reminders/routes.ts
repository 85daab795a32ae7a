import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { read } from '../../../http/read.js';
import { Id, LocalDate } from '../../../http/types.js';
import { write } from '../../../http/write.js';
import { refuses } from '../../../problems.js';
import { localDay } from '../../../trade/calendar/calendar.js';
import { getStudio } from '../../settings/service.js';
import { Reminder } from '../contract.js';
import { listDebtors } from '../reports.js';
import { debtorsCsv } from './debtors-csv.js';
import { sendReminder } from './reminders.js';

const tags = ['accounts'];

export const reminderRoutes: FastifyPluginAsyncZod = async (app) => {
  app.post(
    '/people/:personId/reminders',
    {
      config: { right: 'money:write' },
      schema: {
        tags,
        summary: 'Remind a person of what is due',
        params: z.object({ personId: Id }),
        response: {
          201: Reminder,
          ...refuses('not-found', 'nothing-owed', 'already-reminded', 'set-up-missing'),
        },
      },
    },
    (request, reply) => write(request, reply, 201, (tx, now) => sendReminder(tx, now, request.params.personId)),
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
