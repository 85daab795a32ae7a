import type { FastifyPluginAsync } from 'fastify';
import { editableRoutes } from '../../http/editable.js';
import * as changes from './changes.js';
import { NewRefundPolicy, NewRoom, NewTaxRate, RefundPolicy, Room, TaxRate } from './contract.js';
import { getTaxRate } from './service.js';

const tag = 'settings';

export const settingsEditRoutes: FastifyPluginAsync = async (app) => {
  editableRoutes(app, {
    ...{ path: '/rooms/:roomId', tag, what: 'a room', shown: Room, wanted: NewRoom },
    rights: { read: 'signed-in', write: 'settings:write' },
    ...{ get: changes.getRoom, lock: changes.lockRoom, change: changes.changeRoom, remove: changes.removeRoom },
  });
  editableRoutes(app, {
    ...{ path: '/tax-rates/:taxRateId', tag, what: 'a tax rate', shown: TaxRate, wanted: NewTaxRate },
    rights: { read: 'signed-in', write: 'settings:write' },
    ...{ get: getTaxRate, lock: changes.lockTaxRate, change: changes.changeTaxRate, remove: changes.removeTaxRate },
  });
  editableRoutes(app, {
    ...{ path: '/refund-policies/:refundPolicyId', tag, what: 'a refund policy' },
    ...{ shown: RefundPolicy, wanted: NewRefundPolicy },
    rights: { read: 'money:read', write: 'settings:write' },
    get: changes.getRefundPolicy,
    lock: changes.lockRefundPolicy,
    change: changes.changeRefundPolicy,
    remove: changes.removeRefundPolicy,
  });
};
