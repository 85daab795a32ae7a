-- Until when it is decided whether a course takes place, where the owner gave a day.
ALTER TABLE course ADD decide_on date CHECK (decide_on BETWEEN '2000-01-01' AND '2099-12-31');
