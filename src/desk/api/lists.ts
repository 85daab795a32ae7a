import { fetchAllPages } from './all-pages';
import { api } from './client';

export const listCoursePlans = () =>
  fetchAllPages('which plans there are', (query) => api.GET('/api/course-plans', { params: { query } }));

export const listCourses = () =>
  fetchAllPages('which courses there are', (query) => api.GET('/api/courses', { params: { query } }));
