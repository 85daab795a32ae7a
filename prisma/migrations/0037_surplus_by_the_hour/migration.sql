-- What a course should leave beyond every cost and wage was one sum, whether it took an evening or three. It is asked for by the hour
-- of teaching. A studio keeps its sum for the course that it holds on average: the hours of its plans' sessions, or an evening of two
-- and a half hours where it has none.
ALTER TABLE studio RENAME COLUMN target_surplus_minor TO surplus_per_hour_minor;
ALTER TABLE studio RENAME CONSTRAINT studio_target_surplus_minor_check TO studio_surplus_per_hour_minor_check;

UPDATE studio SET surplus_per_hour_minor = round(surplus_per_hour_minor / coalesce(
  (SELECT sum(minutes) / 60.0 / count(DISTINCT plan_id) FROM plan_session), 2.5));
