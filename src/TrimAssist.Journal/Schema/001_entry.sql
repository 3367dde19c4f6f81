CREATE TABLE entry (
    position     INTEGER PRIMARY KEY AUTOINCREMENT,
    id           TEXT    NOT NULL UNIQUE,
    at_utc       TEXT    NOT NULL,
    desk         TEXT,
    kind         TEXT    NOT NULL,
    body_version INTEGER NOT NULL,
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
