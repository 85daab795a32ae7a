-- A course may pay for whole kiln loads instead of the room that its ware takes in them.
ALTER TABLE course_plan ADD whole_loads boolean NOT NULL DEFAULT false;
