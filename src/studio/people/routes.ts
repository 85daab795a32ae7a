import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { listOf } from '../../http/paging.js';
import { read } from '../../http/read.js';
import { Id } from '../../http/types.js';
import { edit, write } from '../../http/write.js';
import { refuses } from '../../problems.js';
import { NewPerson, Person, PersonQuery } from './contract.js';
import * as people from './service.js';

const tags = ['people'];
const params = z.object({ personId: Id });

export const peopleRoutes: FastifyPluginAsyncZod = async (app) => {
  app.post(
    '/people',
    {
      config: { right: 'people:write', tagged: true },
      schema: {
        tags,
        summary: 'Add a person: a student, a member, a maker who works at home',
        body: NewPerson,
        response: { 201: Person },
      },
    },
    (request, reply) => write(request, reply, 201, (tx, now) => people.addPerson(tx, now, request.body)),
  );
  app.put(
    '/people/:personId',
    {
      config: { right: 'people:write', tagged: true },
      schema: {
        tags,
        summary: 'Change a person',
        params,
        body: NewPerson,
        response: { 200: Person, ...refuses('not-found', 'merged') },
      },
    },
    (request, reply) => {
      const { personId } = request.params;
      return edit(
        request,
        reply,
        (tx) => people.lockPerson(tx, personId),
        (tx) => people.changePerson(tx, personId, request.body),
      );
    },
  );
  app.get(
    '/people',
    {
      config: { right: 'people:read' },
      schema: {
        tags,
        summary: 'People, all or by words of the name, the email address or the phone number',
        querystring: PersonQuery,
        response: { 200: listOf(Person) },
      },
    },
    (request) => read(request, (tx, now) => people.listPeople(tx, now, request.query)),
  );
  app.get(
    '/people/:personId',
    {
      config: { right: 'people:read', tagged: true },
      schema: {
        ...{ tags, params },
        summary: 'A person; where they were merged into another, that one',
        response: { 200: Person, ...refuses('not-found') },
      },
    },
    (request) => read(request, (tx) => people.getPersonAt(tx, request.params.personId)),
  );
};
