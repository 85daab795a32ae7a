-- The balance of a place in so many payments, so many days apart, the last of them when the balance is due; one, until somebody says more.
ALTER TABLE course_plan
  ADD balance_payments   integer NOT NULL DEFAULT 1 CHECK (balance_payments BETWEEN 1 AND 11),
  ADD balance_every_days integer NOT NULL DEFAULT 28 CHECK (balance_every_days BETWEEN 1 AND 92),
  ADD CONSTRAINT course_plan_balance_check -- with a deposit, or without one
      CHECK (balance_payments = 1 OR payments IN (balance_payments, balance_payments + 1));
ALTER TABLE course
  ADD balance_payments   integer NOT NULL DEFAULT 1 CHECK (balance_payments BETWEEN 1 AND 11),
  ADD balance_every_days integer NOT NULL DEFAULT 28 CHECK (balance_every_days BETWEEN 1 AND 92);

-- A concession's own number of payments, its deposit counted; NULL: as everybody.
ALTER TABLE course_concession ADD payments integer CHECK (payments BETWEEN 1 AND 12);
