-- A journal as the first schema has it, with a line of each kind that is read. It stays as it is: a later program has to open it.
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

INSERT INTO entry (id, at_utc, desk, kind, body_version, body) VALUES ('019a0000000070008000000000000101', '2031-05-17T20:11:00.0000000Z', 'desk', 'list', 1, '{"act":{"name":"Harbour Kites","startsAt":null,"inputs":[{"input":1,"name":"Lead","source":"voice","role":"Performer","player":"Zo\u00EB Ashdown","pair":null,"target":{"value":-12},"allowanceDb":null,"note":"left"}]}}');
INSERT INTO entry (id, at_utc, desk, kind, body_version, body) VALUES ('019a0000000070008000000000000102', '2031-05-17T20:12:00.0000000Z', 'desk', 'act', 1, '{"act":{"name":"Harbour Kites","startsAt":"21:30:00","inputs":[{"input":1,"name":"Lead","source":"voice","role":"Performer","player":"Zo\u00EB Ashdown","pair":null,"target":{"value":-12},"allowanceDb":null,"note":"left"}]},"at":"2031-05-17T20:14:00+00:00"}');
INSERT INTO entry (id, at_utc, desk, kind, body_version, body) VALUES ('019a0000000070008000000000000103', '2031-05-17T20:13:00.0000000Z', 'desk', 'chain', 1, '{"act":null,"input":1,"toml":"source_dbu = -30.0\ntarget_dbfs = -12.0\nfull_scale_dbu = 18.0\nheadroom_db = 6.0\n\n[[stage]]\nname = \"preamp\"\ngain_db = [0, 60]\nstep_db = 1.0\nnow_db = 30.0\n"}');
INSERT INTO entry (id, at_utc, desk, kind, body_version, body) VALUES ('019a0000000070008000000000000104', '2031-05-17T20:14:00.0000000Z', 'desk', 'proposal', 1, '{"id":"019a0000-0000-7000-8000-000000000001","desk":"desk","input":1,"inputs":[1],"socket":"A1","kind":"trim","from":30,"to":24.5,"reason":"Too hot.","evidence":{"activeS":31.5,"peakDbfs":-3.25,"loudestPassageDbfs":-15,"noiseFloorDbfs":null,"predictedLowDbfs":null,"predictedShowPeakDbfs":null,"predictedHighDbfs":null,"targetPeakDbfs":-12,"allowanceDb":5.1,"allowanceBasis":"5.1 dB, common practice","showPeakDbfs":null,"confidence":"high","alarmId":null,"sizeDb":null},"affects":[],"needs":[],"state":"open","digest":"0f1e","createdAt":"2031-05-17T20:15:00+00:00","expiresAt":"2031-05-17T20:25:00+00:00","sequenceId":"019a0000-0000-7000-8000-000000000001","step":1,"steps":1,"outcome":null}');
INSERT INTO entry (id, at_utc, desk, kind, body_version, body) VALUES ('019a0000000070008000000000000105', '2031-05-17T20:15:00.0000000Z', 'desk', 'confirmed', 1, '{"proposal":"019a0000-0000-7000-8000-000000000001","digest":"0f1e","by":"engineer","at":"2031-05-17T20:16:00+00:00","shown":{"id":"019a0000-0000-7000-8000-000000000001","desk":"desk","input":1,"inputs":[1],"socket":"A1","kind":"trim","from":30,"to":24.5,"reason":"Too hot.","evidence":{"activeS":31.5,"peakDbfs":-3.25,"loudestPassageDbfs":-15,"noiseFloorDbfs":null,"predictedLowDbfs":null,"predictedShowPeakDbfs":null,"predictedHighDbfs":null,"targetPeakDbfs":-12,"allowanceDb":5.1,"allowanceBasis":"5.1 dB, common practice","showPeakDbfs":null,"confidence":"high","alarmId":null,"sizeDb":null},"affects":[],"needs":[],"state":"open","digest":"0f1e","createdAt":"2031-05-17T20:15:00+00:00","expiresAt":"2031-05-17T20:25:00+00:00","sequenceId":"019a0000-0000-7000-8000-000000000001","step":1,"steps":1,"outcome":null}}');
INSERT INTO entry (id, at_utc, desk, kind, body_version, body) VALUES ('019a0000000070008000000000000106', '2031-05-17T20:16:00.0000000Z', 'desk', 'sending', 1, '{"proposal":"019a0000-0000-7000-8000-000000000001"}');
INSERT INTO entry (id, at_utc, desk, kind, body_version, body) VALUES ('019a0000000070008000000000000107', '2031-05-17T20:17:00.0000000Z', 'desk', 'proposal', 1, '{"id":"019a0000-0000-7000-8000-000000000001","desk":"desk","input":1,"inputs":[1],"socket":"A1","kind":"trim","from":30,"to":24.5,"reason":"Too hot.","evidence":{"activeS":31.5,"peakDbfs":-3.25,"loudestPassageDbfs":-15,"noiseFloorDbfs":null,"predictedLowDbfs":null,"predictedShowPeakDbfs":null,"predictedHighDbfs":null,"targetPeakDbfs":-12,"allowanceDb":5.1,"allowanceBasis":"5.1 dB, common practice","showPeakDbfs":null,"confidence":"high","alarmId":null,"sizeDb":null},"affects":[],"needs":[],"state":"applied","digest":"0f1e","createdAt":"2031-05-17T20:15:00+00:00","expiresAt":"2031-05-17T20:25:00+00:00","sequenceId":"019a0000-0000-7000-8000-000000000001","step":1,"steps":1,"outcome":"Read back."}');
INSERT INTO entry (id, at_utc, desk, kind, body_version, body) VALUES ('019a0000000070008000000000000108', '2031-05-17T20:18:00.0000000Z', 'desk', 'alarm', 1, '{"id":"019a0000-0000-7000-8000-00000000000a","groupId":"019a0000-0000-7000-8000-00000000000a","desk":"desk","input":2,"kind":"pop","priority":"high","atS":31.25,"at":"2031-05-17T20:17:00+00:00","sizeDb":24,"state":"unacknowledged","text":"A pop.","proposalId":null}');
INSERT INTO entry (id, at_utc, desk, kind, body_version, body) VALUES ('019a0000000070008000000000000109', '2031-05-17T20:19:00.0000000Z', 'desk', 'show', 1, '{"desk":"desk","act":"Harbour Kites","begunAt":"2031-05-17T20:14:00+00:00","line":{"input":1,"name":"Lead","source":"voice","role":"Performer","player":"Zo\u00EB Ashdown","pair":null,"target":{"value":-12},"allowanceDb":null,"note":"left"},"trimDb":24.5,"padOn":false,"targetDbfs":-12,"checkPeakDbfs":-17.5,"noiseFloorDbfs":-80.5,"loudestPassageDbfs":-25,"predictedDbfs":-12.5,"showPeakDbfs":-11.5,"clipped":false,"allowanceDb":5.1,"allowanceBasis":"5.1 dB, common practice","aboveCheckDb":6,"teaches":null,"soFar":false}');
INSERT INTO entry (id, at_utc, desk, kind, body_version, body) VALUES ('019a000000007000800000000000010a', '2031-05-17T20:20:00.0000000Z', 'desk', 'act-ended', 1, '{"act":"Harbour Kites","at":"2031-05-17T22:14:00+00:00"}');
INSERT INTO entry (id, at_utc, desk, kind, body_version, body) VALUES ('019a000000007000800000000000010b', '2031-05-17T20:21:00.0000000Z', 'desk', 'player-forgotten', 1, '{"player":"Somebody Else"}');

PRAGMA user_version = 1;
