CREATE TABLE `backup_run` (
	`number` integer PRIMARY KEY AUTOINCREMENT NOT NULL,
	`file` text NOT NULL,
	`bytes` integer NOT NULL,
	`began` integer NOT NULL,
	`finished` integer NOT NULL,
	`trouble` text,
	`readings` integer,
	`up_to` integer
) STRICT;
--> statement-breakpoint
CREATE TABLE `import_run` (
	`id` text PRIMARY KEY NOT NULL,
	`source` integer NOT NULL,
	`file` text NOT NULL,
	`bytes` integer NOT NULL,
	`fingerprint` text NOT NULL,
	`plan` text NOT NULL,
	`state` text NOT NULL,
	`position` text,
	`report` text NOT NULL,
	`stored` integer NOT NULL,
	`begun` integer NOT NULL,
	`begun_by` text NOT NULL,
	`changed` integer NOT NULL,
	`finished` integer,
	`withdrawn` integer,
	`withdrawn_by` text,
	`reason` text
) STRICT;
--> statement-breakpoint
CREATE UNIQUE INDEX `import_run_source_unique` ON `import_run` (`source`);--> statement-breakpoint
CREATE TABLE `process_report` (
	`name` text PRIMARY KEY NOT NULL,
	`host` text NOT NULL,
	`pid` integer NOT NULL,
	`started` integer NOT NULL,
	`at` integer NOT NULL,
	`report` text NOT NULL
) STRICT;
--> statement-breakpoint
CREATE TABLE `withdrawn_reading` (
	`source` integer NOT NULL,
	`stream` integer NOT NULL,
	`at` integer NOT NULL,
	`value` real NOT NULL,
	`delay` integer NOT NULL,
	`sequence` integer,
	PRIMARY KEY(`source`, `stream`, `at`)
) STRICT;
--> statement-breakpoint
DROP INDEX `reading_conflict_key`;--> statement-breakpoint
CREATE UNIQUE INDEX `reading_conflict_key` ON `reading_conflict` (`stream`,`at`,`value`,`source`);
--> statement-breakpoint
-- Written by hand from here (and STRICT above).
-- The one change a reading may see: once its import is withdrawn and the row as received is kept, its place may be taken.
DROP TRIGGER `reading_no_update`;
--> statement-breakpoint
CREATE TRIGGER `reading_no_update` BEFORE UPDATE ON `reading` WHEN NEW.`stream` IS NOT OLD.`stream` OR NEW.`at` IS NOT OLD.`at` OR NOT EXISTS (SELECT 1 FROM `import_run` AS i WHERE i.`source` = OLD.`source` AND i.`withdrawn` IS NOT NULL) OR NOT EXISTS (SELECT 1 FROM `withdrawn_reading` AS w WHERE w.`source` = OLD.`source` AND w.`stream` = OLD.`stream` AND w.`at` = OLD.`at` AND w.`value` = OLD.`value` AND w.`delay` = OLD.`delay`) BEGIN SELECT RAISE(ABORT, 'a reading as received never changes'); END;
--> statement-breakpoint
CREATE TRIGGER `withdrawn_reading_no_update` BEFORE UPDATE ON `withdrawn_reading` BEGIN SELECT RAISE(ABORT, 'a reading as received never changes'); END;
--> statement-breakpoint
CREATE TRIGGER `withdrawn_reading_no_delete` BEFORE DELETE ON `withdrawn_reading` BEGIN SELECT RAISE(ABORT, 'a reading as received never changes'); END;
--> statement-breakpoint
CREATE TRIGGER `import_run_no_delete` BEFORE DELETE ON `import_run` BEGIN SELECT RAISE(ABORT, 'an import never changes back: its rows point at it'); END;
