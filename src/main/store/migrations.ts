/** The schema, step by step. A step that has been released is never changed: add another one. */

export const MIGRATIONS: readonly string[] = [
  `CREATE TABLE charts (
     chart_id TEXT PRIMARY KEY,
     title TEXT NOT NULL,
     text TEXT NOT NULL,
     updated_at_ms REAL NOT NULL,
     deleted_at_ms REAL
   ) STRICT;
   CREATE TABLE takes (
     take_id TEXT PRIMARY KEY,
     chart_id TEXT NOT NULL,
     set_up TEXT NOT NULL,
     chart_text TEXT NOT NULL,
     started_at_ms REAL NOT NULL,
     end_ms REAL NOT NULL,
     note TEXT NOT NULL DEFAULT '',
     figures TEXT,
     finished INTEGER NOT NULL DEFAULT 0,
     session_id TEXT NOT NULL,
     deleted_at_ms REAL
   ) STRICT;
   CREATE INDEX takes_by_chart ON takes (chart_id, started_at_ms);
   CREATE INDEX takes_by_time ON takes (started_at_ms);
   CREATE TABLE take_chunks (
     take_id TEXT NOT NULL REFERENCES takes (take_id) ON DELETE CASCADE,
     from_event INTEGER NOT NULL,
     events INTEGER NOT NULL,
     bytes BLOB NOT NULL,
     PRIMARY KEY (take_id, from_event)
   ) STRICT, WITHOUT ROWID;
   CREATE TABLE settings (name TEXT PRIMARY KEY, value TEXT NOT NULL) STRICT;
   CREATE TABLE devices (
     device_name TEXT NOT NULL,
     output_name TEXT NOT NULL,
     data TEXT NOT NULL,
     PRIMARY KEY (device_name, output_name)
   ) STRICT;`,
  // Tags stand beside the charts: those that come with the program have no row of their own there.
  `CREATE TABLE chart_tags (
     chart_id TEXT NOT NULL,
     tag TEXT NOT NULL,
     PRIMARY KEY (chart_id, tag)
   ) STRICT, WITHOUT ROWID;`,
  // Evidence and events of finished takes are packed: ten years of them are a file that can be copied.
  `ALTER TABLE takes ADD COLUMN evidence BLOB;
   ALTER TABLE take_chunks ADD COLUMN deflated INTEGER NOT NULL DEFAULT 0;`,
  // Remarks on sessions of practice, and the short facts of takes that the journal tells, apart from what is long in them.
  `CREATE TABLE session_remarks (
     at_ms REAL PRIMARY KEY,
     text TEXT NOT NULL
   ) STRICT, WITHOUT ROWID;
   CREATE INDEX takes_for_journal ON takes (
     started_at_ms, end_ms, take_id, chart_id, note,
     CASE WHEN json_valid(set_up) THEN json_extract(set_up, '$.chartTitle', '$.plan', '$.key',
       '$.grade.level', '$.grade.tempo.tempoBpm', '$.bars') END,
     CASE WHEN json_valid(figures) THEN json_extract(figures, '$.slots', '$.clean') END
   ) WHERE deleted_at_ms IS NULL;`,
  // The text of a chart holds chords alone; what was sung to them stands beside it.
  `CREATE TABLE chart_melodies (chart_id TEXT PRIMARY KEY, melody TEXT NOT NULL) STRICT;`,
  // The counts of all takes of a month in one piece, so that ten years are read at once. Whatever changes a take empties its
  // month, in the same transaction: what is there never says other than the takes. See `history-months.ts`.
  `CREATE TABLE history_months (month INTEGER PRIMARY KEY, bytes BLOB) STRICT;
   CREATE INDEX takes_by_month ON takes (
     CAST(min(max(started_at_ms, 0), 253370764800000) / 2592000000 AS INTEGER)
   );
   INSERT INTO history_months (month)
     SELECT DISTINCT CAST(min(max(started_at_ms, 0), 253370764800000) / 2592000000 AS INTEGER) FROM takes;
   CREATE TRIGGER month_of_new_take AFTER INSERT ON takes BEGIN
     INSERT INTO history_months (month) VALUES
       (CAST(min(max(NEW.started_at_ms, 0), 253370764800000) / 2592000000 AS INTEGER))
       ON CONFLICT (month) DO UPDATE SET bytes = NULL;
   END;
   CREATE TRIGGER month_of_changed_take
   AFTER UPDATE OF take_id, set_up, started_at_ms, figures, evidence, finished, deleted_at_ms ON takes BEGIN
     INSERT INTO history_months (month) VALUES
       (CAST(min(max(OLD.started_at_ms, 0), 253370764800000) / 2592000000 AS INTEGER)),
       (CAST(min(max(NEW.started_at_ms, 0), 253370764800000) / 2592000000 AS INTEGER))
       ON CONFLICT (month) DO UPDATE SET bytes = NULL;
   END;
   CREATE TRIGGER month_of_gone_take AFTER DELETE ON takes BEGIN
     INSERT INTO history_months (month) VALUES
       (CAST(min(max(OLD.started_at_ms, 0), 253370764800000) / 2592000000 AS INTEGER))
       ON CONFLICT (month) DO UPDATE SET bytes = NULL;
   END;`,
  // What each practice came to before the month under way, told from the months before it. See `history-pasts.ts`.
  `CREATE TABLE history_pasts (
     utc_offset_minutes INTEGER PRIMARY KEY,
     month INTEGER NOT NULL,
     sum INTEGER NOT NULL,
     pasts TEXT NOT NULL
   ) STRICT;`,
  // The sum of a piece stands before it, where it is read without it; the pieces are made anew in another format anyway. What was read
  // of chart texts: see `chart-outlines.ts`.
  `DROP TABLE history_months;
   CREATE TABLE history_months (month INTEGER PRIMARY KEY, sum INTEGER, bytes BLOB) STRICT;
   INSERT INTO history_months (month)
     SELECT DISTINCT CAST(min(max(started_at_ms, 0), 253370764800000) / 2592000000 AS INTEGER) FROM takes;
   CREATE TABLE chart_outlines (text_sum TEXT PRIMARY KEY, outline TEXT NOT NULL) STRICT, WITHOUT ROWID;`,
  // The keyboards of a take, its breaks, how else it can be read and what the player said to that; JSON, NULL for none. The
  // month of a take whose reading changes is counted anew.
  `ALTER TABLE takes ADD COLUMN sources TEXT;
   ALTER TABLE takes ADD COLUMN breaks TEXT;
   ALTER TABLE takes ADD COLUMN readings TEXT;
   ALTER TABLE takes ADD COLUMN decision TEXT;
   DROP TRIGGER month_of_changed_take;
   CREATE TRIGGER month_of_changed_take
   AFTER UPDATE OF take_id, set_up, started_at_ms, figures, evidence, finished, deleted_at_ms, readings, decision ON takes BEGIN
     INSERT INTO history_months (month) VALUES
       (CAST(min(max(OLD.started_at_ms, 0), 253370764800000) / 2592000000 AS INTEGER)),
       (CAST(min(max(NEW.started_at_ms, 0), 253370764800000) / 2592000000 AS INTEGER))
       ON CONFLICT (month) DO UPDATE SET bytes = NULL;
   END;`,
  // When a take was played by the clock of the place it was played in (day: days since 1970; minute of the day; zone: IANA name, NULL for
  // takes from before it was told), and what takes count for, a row each. What of it is still to be made stands in `facts_to_make`.
  `ALTER TABLE takes ADD COLUMN day INTEGER;
   ALTER TABLE takes ADD COLUMN minute INTEGER;
   ALTER TABLE takes ADD COLUMN zone TEXT;
   UPDATE takes SET
     day = CAST(julianday(started_at_ms / 1000, 'unixepoch', 'localtime', 'start of day') - 2440587.5 AS INTEGER),
     minute = CAST(strftime('%H', started_at_ms / 1000, 'unixepoch', 'localtime') AS INTEGER) * 60
       + CAST(strftime('%M', started_at_ms / 1000, 'unixepoch', 'localtime') AS INTEGER);
   CREATE TABLE practices (
     practice INTEGER PRIMARY KEY,
     chart_id TEXT NOT NULL,
     plan TEXT NOT NULL,
     key TEXT NOT NULL,
     level TEXT NOT NULL,
     UNIQUE (chart_id, plan, key, level)
   ) STRICT;
   CREATE TABLE take_facts (
     take INTEGER PRIMARY KEY,
     take_id TEXT NOT NULL UNIQUE REFERENCES takes (take_id) ON DELETE CASCADE,
     practice INTEGER NOT NULL REFERENCES practices (practice),
     chart_title TEXT NOT NULL,
     played_at_ms REAL NOT NULL,
     day INTEGER NOT NULL,
     tempo_bpm REAL NOT NULL,
     from_bar INTEGER,
     to_bar INTEGER,
     choruses REAL NOT NULL,
     slots INTEGER NOT NULL,
     clean INTEGER NOT NULL,
     changes_counted INTEGER NOT NULL,
     changes_on_time INTEGER NOT NULL,
     changes_unproven INTEGER NOT NULL,
     changes_left_out INTEGER NOT NULL,
     is_undecided INTEGER NOT NULL,
     late_changes TEXT
   ) STRICT;
   CREATE INDEX take_facts_by_practice ON take_facts (practice, played_at_ms);
   CREATE INDEX take_facts_by_time ON take_facts (played_at_ms);
   CREATE TABLE bar_facts (
     take INTEGER NOT NULL REFERENCES take_facts (take) ON DELETE CASCADE,
     bar INTEGER NOT NULL,
     slots INTEGER NOT NULL,
     clean INTEGER NOT NULL,
     times INTEGER,
     faulty_squares INTEGER,
     PRIMARY KEY (take, bar)
   ) STRICT, WITHOUT ROWID;
   CREATE TABLE facts_to_make (take_id TEXT PRIMARY KEY) STRICT, WITHOUT ROWID;
   INSERT INTO facts_to_make SELECT take_id FROM takes
     WHERE finished <> 0 AND deleted_at_ms IS NULL AND figures IS NOT NULL;`,
  // The same once more, now told by the form that was played (a sum of its music; see `practice-forms.ts`), with what each practice, and
  // each of its days, came to; it is all made anew. What was kept to read years at once goes: the tables are read as they stand.
  `DROP TRIGGER month_of_new_take;
   DROP TRIGGER month_of_changed_take;
   DROP TRIGGER month_of_gone_take;
   DROP INDEX takes_by_month;
   DROP TABLE history_months;
   DROP TABLE history_pasts;
   DROP TABLE chart_outlines;
   CREATE TABLE chart_outlines (
     chart_id TEXT PRIMARY KEY, text_sum TEXT NOT NULL, outline TEXT NOT NULL
   ) STRICT, WITHOUT ROWID;
   DROP TABLE bar_facts;
   DROP TABLE take_facts;
   DROP TABLE practices;
   DROP TABLE facts_to_make;
   DROP INDEX takes_for_journal;
   CREATE INDEX takes_for_journal ON takes (
     started_at_ms, day, minute, end_ms, take_id, chart_id, note,
     CASE WHEN json_valid(set_up) THEN json_extract(set_up, '$.chartTitle', '$.plan', '$.key',
       '$.grade.level', '$.grade.tempo.tempoBpm', '$.bars') END,
     CASE WHEN json_valid(figures) THEN json_extract(figures, '$.slots', '$.clean') END
   ) WHERE deleted_at_ms IS NULL;
   CREATE INDEX takes_by_day ON takes (day, end_ms) WHERE deleted_at_ms IS NULL;
   CREATE TABLE practices (
     practice INTEGER PRIMARY KEY,
     chart_id TEXT NOT NULL,
     plan TEXT NOT NULL,
     key TEXT NOT NULL,
     level TEXT NOT NULL,
     form TEXT NOT NULL,
     is_present INTEGER NOT NULL DEFAULT 1,
     takes INTEGER NOT NULL DEFAULT 0,
     last_take INTEGER,
     once_held_bpm REAL,
     last_day INTEGER,
     due_day INTEGER,
     stability_days REAL,
     difficulty REAL,
     UNIQUE (chart_id, plan, key, level, form)
   ) STRICT;
   CREATE TABLE take_facts (
     take INTEGER PRIMARY KEY,
     take_id TEXT NOT NULL UNIQUE REFERENCES takes (take_id) ON DELETE CASCADE,
     practice INTEGER NOT NULL REFERENCES practices (practice),
     chart_title TEXT NOT NULL,
     played_at_ms REAL NOT NULL,
     day INTEGER NOT NULL,
     tempo_bpm REAL NOT NULL,
     from_bar INTEGER,
     to_bar INTEGER,
     choruses REAL NOT NULL,
     slots INTEGER NOT NULL,
     clean INTEGER NOT NULL,
     changes_counted INTEGER NOT NULL,
     changes_on_time INTEGER NOT NULL,
     changes_unproven INTEGER NOT NULL,
     changes_left_out INTEGER NOT NULL,
     is_undecided INTEGER NOT NULL,
     late_changes TEXT,
     holds INTEGER NOT NULL DEFAULT 0
   ) STRICT;
   CREATE INDEX take_facts_by_practice ON take_facts (practice, from_bar, played_at_ms);
   CREATE INDEX take_facts_by_time ON take_facts (played_at_ms);
   CREATE INDEX take_facts_that_hold ON take_facts (practice, tempo_bpm) WHERE holds = 1;
   CREATE TABLE bar_facts (
     take INTEGER NOT NULL REFERENCES take_facts (take) ON DELETE CASCADE,
     bar INTEGER NOT NULL,
     slots INTEGER NOT NULL,
     clean INTEGER NOT NULL,
     times INTEGER,
     faulty_squares INTEGER,
     PRIMARY KEY (take, bar)
   ) STRICT, WITHOUT ROWID;
   CREATE TABLE day_ratings (
     practice INTEGER NOT NULL REFERENCES practices (practice) ON DELETE CASCADE,
     day INTEGER NOT NULL,
     tempo_bpm REAL NOT NULL,
     rating TEXT NOT NULL,
     PRIMARY KEY (practice, day, tempo_bpm)
   ) STRICT, WITHOUT ROWID;
   CREATE TABLE unread_takes (
     take_id TEXT PRIMARY KEY REFERENCES takes (take_id) ON DELETE CASCADE
   ) STRICT, WITHOUT ROWID;
   CREATE TABLE facts_to_make (place INTEGER PRIMARY KEY, take_id TEXT NOT NULL UNIQUE) STRICT;
   INSERT INTO facts_to_make (take_id) SELECT take_id FROM takes
     WHERE finished <> 0 AND deleted_at_ms IS NULL AND figures IS NOT NULL ORDER BY chart_id, started_at_ms;`,
];
