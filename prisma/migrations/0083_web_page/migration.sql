-- Whether the studio's own web page may show its coming courses, and whether it names who teaches. Without a row it may not.
CREATE TABLE web_page (
  id           smallint PRIMARY KEY CHECK (id = 1),
  is_on        boolean NOT NULL,
  names_tutors boolean NOT NULL
);
