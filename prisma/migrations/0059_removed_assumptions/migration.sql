-- What is removed takes the note on its figures along: else an assumption would be shown of something that has no name any more.
CREATE FUNCTION end_removed_assumption() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  DELETE FROM assumption WHERE subject_id = OLD.id;
  RETURN NULL;
END $$;
CREATE TRIGGER room_is_gone AFTER DELETE ON room FOR EACH ROW EXECUTE FUNCTION end_removed_assumption();
CREATE TRIGGER kiln_is_gone AFTER DELETE ON kiln FOR EACH ROW EXECUTE FUNCTION end_removed_assumption();
CREATE TRIGGER schedule_is_gone AFTER DELETE ON schedule FOR EACH ROW EXECUTE FUNCTION end_removed_assumption();
CREATE TRIGGER tax_rate_is_gone AFTER DELETE ON tax_rate FOR EACH ROW EXECUTE FUNCTION end_removed_assumption();
CREATE TRIGGER refund_policy_is_gone AFTER DELETE ON refund_policy FOR EACH ROW EXECUTE FUNCTION end_removed_assumption();
CREATE TRIGGER tariff_is_gone AFTER DELETE ON tariff FOR EACH ROW EXECUTE FUNCTION end_removed_assumption();
CREATE TRIGGER material_is_gone AFTER DELETE ON material FOR EACH ROW EXECUTE FUNCTION end_removed_assumption();

DELETE FROM assumption WHERE
  kind = 'room' AND subject_id NOT IN (SELECT id FROM room)
  OR kind = 'kiln' AND subject_id NOT IN (SELECT id FROM kiln)
  OR kind = 'schedule' AND subject_id NOT IN (SELECT id FROM schedule)
  OR kind = 'tax' AND subject_id NOT IN (SELECT id FROM tax_rate)
  OR kind = 'refundPolicy' AND subject_id NOT IN (SELECT id FROM refund_policy)
  OR kind = 'tariff' AND subject_id NOT IN (SELECT id FROM tariff)
  OR kind = 'material' AND subject_id NOT IN (SELECT id FROM material);
