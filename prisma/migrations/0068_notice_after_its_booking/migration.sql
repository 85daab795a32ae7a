-- That a booking is told of an occasion is noted before its notice is written: whoever finds it noted already writes none.
ALTER TABLE booking_notice ALTER CONSTRAINT booking_notice_notice_id_fkey DEFERRABLE INITIALLY DEFERRED;
