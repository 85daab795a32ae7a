-- What is asked for or paid at once stays within the limit of one amount (http/types.ts): a larger one could be kept, and never shown.
-- What is there already is left as it is.
ALTER TABLE charge ADD CONSTRAINT charge_within_one_amount CHECK (gross_minor <= 1000000000) NOT VALID;
ALTER TABLE payment ADD CONSTRAINT payment_within_one_amount CHECK (amount_minor BETWEEN -1000000000 AND 1000000000) NOT VALID;
