CREATE TABLE `alarm` (
	`id` text PRIMARY KEY NOT NULL,
	`finding` text NOT NULL,
	`system` text NOT NULL,
	`stream` integer NOT NULL,
	`quantity` text NOT NULL,
	`kind` text NOT NULL,
	`rule` text NOT NULL,
	`severity` text NOT NULL,
	`state` text NOT NULL,
	`raised` integer NOT NULL,
	`cleared` integer,
	`acknowledged` integer,
	`acknowledged_by` text
) STRICT;
--> statement-breakpoint
CREATE INDEX `alarm_state` ON `alarm` (`state`,`raised`);--> statement-breakpoint
CREATE INDEX `alarm_raised` ON `alarm` (`raised`);--> statement-breakpoint
CREATE TABLE `alarm_transition` (
	`number` integer PRIMARY KEY AUTOINCREMENT NOT NULL,
	`alarm` text NOT NULL,
	`from_state` text NOT NULL,
	`to_state` text NOT NULL,
	`cause` text NOT NULL,
	`value` real,
	`limit_value` real,
	`event_at` integer NOT NULL,
	`at` integer NOT NULL
) STRICT;
--> statement-breakpoint
CREATE INDEX `alarm_transition_alarm` ON `alarm_transition` (`alarm`);--> statement-breakpoint
CREATE TABLE `bench_result` (
	`id` text PRIMARY KEY NOT NULL,
	`test` text NOT NULL,
	`stream` integer NOT NULL,
	`at` integer NOT NULL,
	`received` integer NOT NULL,
	`quantity` text NOT NULL,
	`typed` text NOT NULL,
	`qualifier` text NOT NULL,
	`unit_typed` text NOT NULL,
	`value` real NOT NULL,
	`method` text,
	`replicate` integer NOT NULL,
	`supersedes` text,
	`reason` text,
	FOREIGN KEY (`test`) REFERENCES `bench_test`(`id`) ON UPDATE no action ON DELETE no action,
	CONSTRAINT "bench_result_value_finite" CHECK(abs("bench_result"."value") <= 1.7976931348623157e308)
) STRICT;
--> statement-breakpoint
CREATE INDEX `bench_result_stream_at` ON `bench_result` (`stream`,`at`);--> statement-breakpoint
CREATE UNIQUE INDEX `bench_result_supersedes` ON `bench_result` (`supersedes`);--> statement-breakpoint
CREATE TABLE `bench_test` (
	`id` text PRIMARY KEY NOT NULL,
	`client_id` text NOT NULL,
	`system` text NOT NULL,
	`point` text NOT NULL,
	`sampled_at` integer NOT NULL,
	`entered_at` integer NOT NULL,
	`received` integer NOT NULL,
	`analyst` text NOT NULL,
	`note` text
) STRICT;
--> statement-breakpoint
CREATE UNIQUE INDEX `bench_test_client_id_unique` ON `bench_test` (`client_id`);--> statement-breakpoint
CREATE TABLE `checkpoint` (
	`system` text NOT NULL,
	`at` integer NOT NULL,
	`state` text NOT NULL,
	PRIMARY KEY(`system`, `at`)
) STRICT;
--> statement-breakpoint
CREATE TABLE `counter` (
	`name` text PRIMARY KEY NOT NULL,
	`value` integer NOT NULL
) STRICT;
--> statement-breakpoint
CREATE TABLE `current` (
	`stream` integer PRIMARY KEY NOT NULL,
	`at` integer NOT NULL,
	`value` real NOT NULL,
	`flag` integer NOT NULL,
	`reasons` text NOT NULL,
	`low` real,
	`high` real,
	`deviation` real,
	`band` text,
	`rate` real,
	`received` integer NOT NULL,
	`silent_at` integer
) STRICT;
--> statement-breakpoint
CREATE TABLE `cursor` (
	`name` text PRIMARY KEY NOT NULL,
	`seq` integer NOT NULL,
	`received` integer NOT NULL
) STRICT;
--> statement-breakpoint
CREATE TABLE `derived` (
	`stream` integer NOT NULL,
	`at` integer NOT NULL,
	`value` real NOT NULL,
	`low` real,
	`high` real,
	`formula` text NOT NULL,
	PRIMARY KEY(`stream`, `at`),
	CONSTRAINT "derived_value_finite" CHECK(abs("derived"."value") <= 1.7976931348623157e308)
) WITHOUT ROWID, STRICT;
--> statement-breakpoint
CREATE TABLE `dirty` (
	`system` text PRIMARY KEY NOT NULL,
	`from_at` integer NOT NULL
) STRICT;
--> statement-breakpoint
CREATE TABLE `finding` (
	`id` text PRIMARY KEY NOT NULL,
	`system` text NOT NULL,
	`stream` integer NOT NULL,
	`quantity` text NOT NULL,
	`kind` text NOT NULL,
	`rule` text NOT NULL,
	`severity` text NOT NULL,
	`began` integer NOT NULL,
	`raised` integer NOT NULL,
	`ended` integer,
	`evidence` text NOT NULL,
	`late` integer NOT NULL,
	`recorded_at` integer NOT NULL,
	`superseded_at` integer
) STRICT;
--> statement-breakpoint
CREATE INDEX `finding_stream_began` ON `finding` (`stream`,`began`);--> statement-breakpoint
CREATE INDEX `finding_system_began` ON `finding` (`system`,`began`);--> statement-breakpoint
CREATE INDEX `finding_began` ON `finding` (`began`);--> statement-breakpoint
CREATE TABLE `flag` (
	`stream` integer NOT NULL,
	`at` integer NOT NULL,
	`flag` integer NOT NULL,
	`reasons` text NOT NULL,
	PRIMARY KEY(`stream`, `at`)
) WITHOUT ROWID, STRICT;
--> statement-breakpoint
CREATE TABLE `journal` (
	`seq` integer PRIMARY KEY NOT NULL,
	`kind` text NOT NULL,
	`ref` text,
	`spans` text,
	`received` integer NOT NULL
) STRICT;
--> statement-breakpoint
CREATE UNIQUE INDEX `journal_received` ON `journal` (`received`);--> statement-breakpoint
CREATE TABLE `lease` (
	`name` text PRIMARY KEY NOT NULL,
	`holder` text NOT NULL,
	`epoch` integer NOT NULL,
	`expires` integer NOT NULL
) STRICT;
--> statement-breakpoint
CREATE TABLE `loop` (
	`id` text PRIMARY KEY NOT NULL,
	`site` text NOT NULL,
	`code` text NOT NULL,
	`name` text NOT NULL,
	FOREIGN KEY (`site`) REFERENCES `site`(`id`) ON UPDATE no action ON DELETE no action
) STRICT;
--> statement-breakpoint
CREATE TABLE `loop_member` (
	`loop` text NOT NULL,
	`system` text NOT NULL,
	PRIMARY KEY(`loop`, `system`),
	FOREIGN KEY (`loop`) REFERENCES `loop`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`system`) REFERENCES `system`(`id`) ON UPDATE no action ON DELETE no action
) STRICT;
--> statement-breakpoint
CREATE TABLE `meta` (
	`key` text PRIMARY KEY NOT NULL,
	`value` text NOT NULL
) STRICT;
--> statement-breakpoint
CREATE TABLE `plan` (
	`id` text PRIMARY KEY NOT NULL,
	`system` text NOT NULL,
	`quantity` text NOT NULL,
	`shape` text NOT NULL,
	`valid_from` integer NOT NULL,
	`valid_to` integer,
	`set_by` text NOT NULL,
	`reason` text NOT NULL,
	FOREIGN KEY (`system`) REFERENCES `system`(`id`) ON UPDATE no action ON DELETE no action
) STRICT;
--> statement-breakpoint
CREATE TABLE `point` (
	`id` text PRIMARY KEY NOT NULL,
	`system` text NOT NULL,
	`code` text NOT NULL,
	`twin_of` text,
	FOREIGN KEY (`system`) REFERENCES `system`(`id`) ON UPDATE no action ON DELETE no action
) STRICT;
--> statement-breakpoint
CREATE UNIQUE INDEX `point_system_code` ON `point` (`system`,`code`);--> statement-breakpoint
CREATE TABLE `reading` (
	`stream` integer NOT NULL,
	`at` integer NOT NULL,
	`value` real NOT NULL,
	`delay` integer NOT NULL,
	`source` integer NOT NULL,
	`sequence` integer,
	PRIMARY KEY(`stream`, `at`),
	CONSTRAINT "reading_value_finite" CHECK(abs("reading"."value") <= 1.7976931348623157e308)
) WITHOUT ROWID, STRICT;
--> statement-breakpoint
CREATE TABLE `reading_conflict` (
	`stream` integer NOT NULL,
	`at` integer NOT NULL,
	`value` real NOT NULL,
	`received` integer NOT NULL,
	`source` integer NOT NULL,
	CONSTRAINT "reading_conflict_value_finite" CHECK(abs("reading_conflict"."value") <= 1.7976931348623157e308)
) STRICT;
--> statement-breakpoint
CREATE UNIQUE INDEX `reading_conflict_key` ON `reading_conflict` (`stream`,`at`,`value`);--> statement-breakpoint
CREATE TABLE `reading_mark` (
	`stream` integer NOT NULL,
	`at` integer NOT NULL,
	`mark` text NOT NULL,
	`received` integer NOT NULL,
	PRIMARY KEY(`stream`, `at`, `mark`)
) WITHOUT ROWID, STRICT;
--> statement-breakpoint
CREATE TABLE `rejected_message` (
	`topic` text NOT NULL,
	`reason` text NOT NULL,
	`sample` blob NOT NULL,
	`bytes` integer NOT NULL,
	`source` text NOT NULL,
	`count` integer NOT NULL,
	`first_seen` integer NOT NULL,
	`last_seen` integer NOT NULL,
	PRIMARY KEY(`topic`, `reason`)
) STRICT;
--> statement-breakpoint
CREATE TABLE `resident` (
	`id` text PRIMARY KEY NOT NULL,
	`system` text NOT NULL,
	`species` text NOT NULL,
	`name` text,
	`stage` text NOT NULL,
	`count` integer NOT NULL,
	`from_at` integer NOT NULL,
	`to_at` integer,
	FOREIGN KEY (`system`) REFERENCES `system`(`id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`species`) REFERENCES `species`(`id`) ON UPDATE no action ON DELETE no action
) STRICT;
--> statement-breakpoint
CREATE INDEX `resident_system` ON `resident` (`system`);--> statement-breakpoint
CREATE TABLE `rollup` (
	`width` integer NOT NULL,
	`stream` integer NOT NULL,
	`start` integer NOT NULL,
	`n` integer NOT NULL,
	`good` integer NOT NULL,
	`min` real,
	`max` real,
	`sum` real NOT NULL,
	`first` real,
	`last` real,
	PRIMARY KEY(`width`, `stream`, `start`),
	CONSTRAINT "rollup_sum_finite" CHECK(abs("rollup"."sum") <= 1.7976931348623157e308)
) WITHOUT ROWID, STRICT;
--> statement-breakpoint
CREATE TABLE `site` (
	`id` text PRIMARY KEY NOT NULL,
	`code` text NOT NULL,
	`name` text NOT NULL,
	`zone` text NOT NULL,
	`latitude` real NOT NULL,
	`longitude` real NOT NULL,
	`elevation` real NOT NULL
) STRICT;
--> statement-breakpoint
CREATE UNIQUE INDEX `site_code_unique` ON `site` (`code`);--> statement-breakpoint
CREATE TABLE `source` (
	`id` integer PRIMARY KEY NOT NULL,
	`code` text NOT NULL,
	`kind` text NOT NULL
) STRICT;
--> statement-breakpoint
CREATE UNIQUE INDEX `source_code_unique` ON `source` (`code`);--> statement-breakpoint
CREATE TABLE `species` (
	`id` text PRIMARY KEY NOT NULL,
	`name` text NOT NULL
) STRICT;
--> statement-breakpoint
CREATE TABLE `stream` (
	`id` integer PRIMARY KEY NOT NULL,
	`point` text NOT NULL,
	`quantity` text NOT NULL,
	`origin` text NOT NULL,
	`interval` integer,
	`critical` integer NOT NULL,
	FOREIGN KEY (`point`) REFERENCES `point`(`id`) ON UPDATE no action ON DELETE no action
) STRICT;
--> statement-breakpoint
CREATE UNIQUE INDEX `stream_point_quantity_origin` ON `stream` (`point`,`quantity`,`origin`);--> statement-breakpoint
CREATE TABLE `system` (
	`id` text PRIMARY KEY NOT NULL,
	`site` text NOT NULL,
	`code` text NOT NULL,
	`name` text NOT NULL,
	`kind` text NOT NULL,
	`water` text NOT NULL,
	`volume` real NOT NULL,
	`duty` real,
	`opened` integer NOT NULL,
	`closed` integer,
	`young_filter` integer NOT NULL,
	FOREIGN KEY (`site`) REFERENCES `site`(`id`) ON UPDATE no action ON DELETE no action
) STRICT;
--> statement-breakpoint
CREATE UNIQUE INDEX `system_code_unique` ON `system` (`code`);--> statement-breakpoint
CREATE TABLE `target_band` (
	`id` text PRIMARY KEY NOT NULL,
	`system` text NOT NULL,
	`quantity` text NOT NULL,
	`point` text,
	`months` text NOT NULL,
	`valid_from` integer NOT NULL,
	`valid_to` integer,
	`recorded_at` integer NOT NULL,
	`set_by` text NOT NULL,
	`reason` text NOT NULL,
	`source` text NOT NULL,
	FOREIGN KEY (`system`) REFERENCES `system`(`id`) ON UPDATE no action ON DELETE no action
) STRICT;
--> statement-breakpoint
CREATE INDEX `target_band_system` ON `target_band` (`system`,`quantity`,`valid_from`);--> statement-breakpoint
CREATE TABLE `unclaimed_reading` (
	`topic` text NOT NULL,
	`at` integer NOT NULL,
	`value` real,
	`word` text,
	`unit` text,
	`source` integer NOT NULL,
	`received` integer NOT NULL,
	PRIMARY KEY(`topic`, `at`),
	CONSTRAINT "unclaimed_reading_value_finite" CHECK(abs("unclaimed_reading"."value") <= 1.7976931348623157e308)
) STRICT;
--> statement-breakpoint
CREATE TABLE `unclaimed_topic` (
	`topic` text PRIMARY KEY NOT NULL,
	`count` integer NOT NULL,
	`first_seen` integer NOT NULL,
	`last_seen` integer NOT NULL
) STRICT;
--> statement-breakpoint
-- Written by hand from here: what the generator cannot express (and WITHOUT ROWID, STRICT above).
CREATE TRIGGER `reading_no_update` BEFORE UPDATE ON `reading` BEGIN SELECT RAISE(ABORT, 'a reading as received never changes'); END;
--> statement-breakpoint
CREATE TRIGGER `reading_no_delete` BEFORE DELETE ON `reading` BEGIN SELECT RAISE(ABORT, 'a reading as received never changes'); END;
--> statement-breakpoint
CREATE TRIGGER `reading_conflict_no_update` BEFORE UPDATE ON `reading_conflict` BEGIN SELECT RAISE(ABORT, 'a reading as received never changes'); END;
--> statement-breakpoint
CREATE TRIGGER `reading_conflict_no_delete` BEFORE DELETE ON `reading_conflict` BEGIN SELECT RAISE(ABORT, 'a reading as received never changes'); END;
--> statement-breakpoint
CREATE TRIGGER `bench_test_no_update` BEFORE UPDATE ON `bench_test` BEGIN SELECT RAISE(ABORT, 'a bench test never changes: record a correction'); END;
--> statement-breakpoint
CREATE TRIGGER `bench_test_no_delete` BEFORE DELETE ON `bench_test` BEGIN SELECT RAISE(ABORT, 'a bench test never changes: record a correction'); END;
--> statement-breakpoint
CREATE TRIGGER `bench_result_no_update` BEFORE UPDATE ON `bench_result` BEGIN SELECT RAISE(ABORT, 'a result as typed never changes: record a correction'); END;
--> statement-breakpoint
CREATE TRIGGER `bench_result_no_delete` BEFORE DELETE ON `bench_result` BEGIN SELECT RAISE(ABORT, 'a result as typed never changes: record a correction'); END;
--> statement-breakpoint
CREATE TRIGGER `alarm_transition_no_update` BEFORE UPDATE ON `alarm_transition` BEGIN SELECT RAISE(ABORT, 'an alarm''s history never changes'); END;
--> statement-breakpoint
CREATE TRIGGER `alarm_transition_no_delete` BEFORE DELETE ON `alarm_transition` BEGIN SELECT RAISE(ABORT, 'an alarm''s history never changes'); END;
--> statement-breakpoint
CREATE TRIGGER `target_band_only_ends` BEFORE UPDATE ON `target_band` WHEN NEW.`id` IS NOT OLD.`id` OR NEW.`system` IS NOT OLD.`system` OR NEW.`quantity` IS NOT OLD.`quantity` OR NEW.`point` IS NOT OLD.`point` OR NEW.`months` IS NOT OLD.`months` OR NEW.`valid_from` IS NOT OLD.`valid_from` OR NEW.`recorded_at` IS NOT OLD.`recorded_at` OR NEW.`set_by` IS NOT OLD.`set_by` OR NEW.`reason` IS NOT OLD.`reason` OR NEW.`source` IS NOT OLD.`source` BEGIN SELECT RAISE(ABORT, 'a target band never changes: end it and record a new one'); END;
--> statement-breakpoint
CREATE TRIGGER `target_band_no_delete` BEFORE DELETE ON `target_band` BEGIN SELECT RAISE(ABORT, 'a target band never changes: end it and record a new one'); END;
--> statement-breakpoint
INSERT INTO `counter` (`name`, `value`) VALUES ('readings', 0), ('duplicates', 0), ('conflicts', 0), ('rejected', 0), ('unclaimed', 0), ('rejected_kinds', 0), ('unclaimed_topics', 0);
