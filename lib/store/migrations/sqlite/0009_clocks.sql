CREATE TABLE `clock_placement` (
	`id` text PRIMARY KEY NOT NULL,
	`client_id` text NOT NULL,
	`clock` text NOT NULL,
	`offset_ms` integer NOT NULL,
	`by_name` text NOT NULL,
	`by_id` text NOT NULL,
	`received` integer NOT NULL
) STRICT;
--> statement-breakpoint
CREATE UNIQUE INDEX `clock_placement_client_id_unique` ON `clock_placement` (`client_id`);--> statement-breakpoint
CREATE INDEX `clock_placement_clock` ON `clock_placement` (`clock`);--> statement-breakpoint
CREATE TABLE `clock_placement_void` (
	`placement` text PRIMARY KEY NOT NULL,
	`id` text NOT NULL,
	`client_id` text NOT NULL,
	`by_name` text NOT NULL,
	`by_id` text NOT NULL,
	`reason` text NOT NULL,
	`at` integer NOT NULL,
	`received` integer NOT NULL
) STRICT;
--> statement-breakpoint
CREATE UNIQUE INDEX `clock_placement_void_id_unique` ON `clock_placement_void` (`id`);--> statement-breakpoint
CREATE UNIQUE INDEX `clock_placement_void_client_id_unique` ON `clock_placement_void` (`client_id`);--> statement-breakpoint
CREATE TABLE `sender_clock` (
	`id` text PRIMARY KEY NOT NULL,
	`clock` text NOT NULL,
	`source` integer NOT NULL,
	`stream` integer NOT NULL,
	`since` integer NOT NULL,
	`until` integer,
	`offset_ms` integer NOT NULL,
	`uncertainty_ms` integer NOT NULL
) STRICT;
--> statement-breakpoint
CREATE UNIQUE INDEX `sender_clock_key` ON `sender_clock` (`stream`,`source`,`since`);--> statement-breakpoint
CREATE INDEX `sender_clock_clock` ON `sender_clock` (`clock`);--> statement-breakpoint
ALTER TABLE `resident` ADD `mass` real;--> statement-breakpoint
ALTER TABLE `resident` ADD `mass_at` integer;--> statement-breakpoint
ALTER TABLE `resident` ADD `mass_source` text;
--> statement-breakpoint
-- Written by hand from here: what the generator cannot express (and STRICT above).
CREATE TRIGGER `clock_placement_no_update` BEFORE UPDATE ON `clock_placement` BEGIN SELECT RAISE(ABORT, 'a placement as recorded never changes: void it and record another'); END;
--> statement-breakpoint
CREATE TRIGGER `clock_placement_no_delete` BEFORE DELETE ON `clock_placement` BEGIN SELECT RAISE(ABORT, 'a placement as recorded never changes: void it and record another'); END;
--> statement-breakpoint
CREATE TRIGGER `clock_placement_void_no_update` BEFORE UPDATE ON `clock_placement_void` BEGIN SELECT RAISE(ABORT, 'a void never changes'); END;
--> statement-breakpoint
CREATE TRIGGER `clock_placement_void_no_delete` BEFORE DELETE ON `clock_placement_void` BEGIN SELECT RAISE(ABORT, 'a void never changes'); END;
