import type { FastifyPluginAsync } from 'fastify';
import { editableRoutes } from '../../http/editable.js';
import * as changes from './changes.js';
import { KilnWithWear, NewKiln, NewSchedule, NewTariff, Schedule, Tariff } from './contract.js';
import { getKiln, getSchedule, getTariff } from './service.js';

const tag = 'kilns';

/** A kiln is shown with what it wears, which is money. */
export const kilnEditRoutes: FastifyPluginAsync = async (app) => {
  editableRoutes(app, {
    ...{ path: '/kilns/:kilnId', tag, what: 'a kiln', shown: KilnWithWear, wanted: NewKiln },
    rights: { read: 'money:read', write: 'settings:write' },
    ...{ get: getKiln, lock: changes.lockKilnToChange, change: changes.changeKiln, remove: changes.removeKiln },
  });
  editableRoutes(app, {
    ...{ path: '/schedules/:scheduleId', tag, what: 'a firing schedule', shown: Schedule, wanted: NewSchedule },
    rights: { read: 'firings:read', write: 'settings:write' },
    get: getSchedule,
    lock: changes.lockScheduleToChange,
    change: changes.changeSchedule,
    remove: changes.removeSchedule,
  });
  editableRoutes(app, {
    ...{ path: '/tariffs/:tariffId', tag, what: 'an electricity tariff', shown: Tariff, wanted: NewTariff },
    rights: { read: 'money:read', write: 'settings:write' },
    ...{ get: getTariff, lock: changes.lockTariff, change: changes.changeTariff, remove: changes.removeTariff },
  });
};
