-- person.email_key has the same in an index of its own.
DROP INDEX person_lower_email_idx;
