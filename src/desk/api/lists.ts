import { fetchAllPages } from './all-pages';
import { api } from './client';

export const listCoursePlans = (signal: AbortSignal) =>
  fetchAllPages('which plans there are', (query) => api.GET('/api/course-plans', { params: { query }, signal }));

export const listCourses = (signal: AbortSignal) =>
  fetchAllPages('which courses there are', (query) => api.GET('/api/courses', { params: { query }, signal }));
