-- A photo can be taken away, since it may show somebody who does not want to be seen; what it shows is still never exchanged.
DROP TRIGGER test_tile_photo_never_changes ON test_tile_photo;
CREATE TRIGGER test_tile_photo_never_changes BEFORE UPDATE ON test_tile_photo
  FOR EACH ROW EXECUTE FUNCTION never_changes('WB005');
