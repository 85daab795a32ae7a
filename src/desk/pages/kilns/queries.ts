import { fetchAllPages } from '../../api/all-pages';
import { api, type Schemas } from '../../api/client';

export type Kiln = Schemas['Kiln'];
export type Schedule = Schemas['Schedule'];

export const listKilns = () =>
  fetchAllPages('which kilns there are', (query) => api.GET('/api/kilns', { params: { query } }));

export const listSchedules = () =>
  fetchAllPages('which schedules there are', (query) => api.GET('/api/schedules', { params: { query } }));
