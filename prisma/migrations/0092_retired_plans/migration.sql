-- A plan that is no longer offered for new courses. Its courses, and what came of them, stay.
ALTER TABLE course_plan ADD retired_on date CHECK (retired_on BETWEEN '2000-01-01' AND '2099-12-31');

-- The second wall behind courses/service.ts.
CREATE FUNCTION plan_is_offered() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF EXISTS (SELECT FROM course_plan p WHERE p.id = NEW.plan_id AND p.retired_on IS NOT NULL) THEN
    RAISE EXCEPTION 'plan % is retired', NEW.plan_id USING ERRCODE = 'WB029';
  END IF;
  RETURN NULL;
END $$;
CREATE CONSTRAINT TRIGGER plan_is_offered AFTER INSERT ON course
  DEFERRABLE INITIALLY IMMEDIATE FOR EACH ROW EXECUTE FUNCTION plan_is_offered();
