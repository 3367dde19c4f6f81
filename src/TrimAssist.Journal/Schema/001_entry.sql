CREATE TABLE entry (
    position     INTEGER PRIMARY KEY AUTOINCREMENT,
    id           TEXT    NOT NULL UNIQUE CHECK (length(id) = 32),
    at_utc       TEXT    NOT NULL,
    desk         TEXT,
    kind         TEXT    NOT NULL CHECK (length(kind) > 0),
    body_version INTEGER NOT NULL CHECK (body_version >= 1),
    body         TEXT    NOT NULL CHECK (json_valid(body))
) STRICT;

CREATE INDEX entry_by_kind ON entry (kind, position);

CREATE TRIGGER entry_is_final_for_updates BEFORE UPDATE ON entry
BEGIN
    SELECT RAISE(ABORT, 'journal entries are final');
END;

CREATE TRIGGER entry_is_final_for_deletes BEFORE DELETE ON entry
BEGIN
    SELECT RAISE(ABORT, 'journal entries are final');
END;

-- INSERT OR REPLACE deletes without the delete trigger unless recursive triggers are on: an entry that is there stays.
CREATE TRIGGER entry_is_final_for_replacements BEFORE INSERT ON entry
WHEN EXISTS (SELECT 1 FROM entry WHERE id = NEW.id OR position = NEW.position)
BEGIN
    SELECT RAISE(IGNORE);
END;
