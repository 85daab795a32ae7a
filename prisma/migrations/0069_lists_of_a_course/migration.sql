-- The bookings and draws of a course are listed in the order in which they came, a page at a time: by an index of both, since one of the
-- course alone is passed over for the ids of all.
DROP INDEX booking_course_id_idx;
CREATE INDEX booking_course_id_id_idx ON booking (course_id, id);
DROP INDEX course_draw_course_id_idx;
CREATE INDEX course_draw_course_id_stock_move_id_idx ON course_draw (course_id, stock_move_id);
