-- How long ware dries before it may be fired, and a kiln cools before it may be opened: a glazing session must leave time for both.
ALTER TABLE course_plan ADD COLUMN drying_days integer NOT NULL DEFAULT 7 CHECK (drying_days BETWEEN 0 AND 90);
ALTER TABLE kiln ADD COLUMN cooling_hours integer NOT NULL DEFAULT 24 CHECK (cooling_hours BETWEEN 0 AND 168);
