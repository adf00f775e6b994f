CREATE TABLE `calibration` (
	`id` text PRIMARY KEY NOT NULL,
	`client_id` text NOT NULL,
	`stream` integer NOT NULL,
	`kind` text NOT NULL,
	`from_at` integer NOT NULL,
	`at` integer NOT NULL,
	`read_before` real,
	`read_after` real,
	`moved` real,
	`standards` text NOT NULL,
	`slope` real,
	`offset_mv` real,
	`item` text,
	`note` text NOT NULL,
	`by_name` text NOT NULL,
	`by_id` text NOT NULL,
	`entered` integer NOT NULL,
	`received` integer NOT NULL,
	CONSTRAINT "calibration_before_finite" CHECK(abs("calibration"."read_before") <= 1.7976931348623157e308),
	CONSTRAINT "calibration_after_finite" CHECK(abs("calibration"."read_after") <= 1.7976931348623157e308),
	CONSTRAINT "calibration_moved_finite" CHECK(abs("calibration"."moved") <= 1.7976931348623157e308)
) STRICT;
--> statement-breakpoint
CREATE UNIQUE INDEX `calibration_client_id_unique` ON `calibration` (`client_id`);--> statement-breakpoint
CREATE INDEX `calibration_stream` ON `calibration` (`stream`,`at`);--> statement-breakpoint
CREATE TABLE `calibration_void` (
	`calibration` text PRIMARY KEY NOT NULL,
	`id` text NOT NULL,
	`client_id` text NOT NULL,
	`by_name` text NOT NULL,
	`by_id` text NOT NULL,
	`reason` text NOT NULL,
	`at` integer NOT NULL,
	`received` integer NOT NULL
) STRICT;
--> statement-breakpoint
CREATE UNIQUE INDEX `calibration_void_id_unique` ON `calibration_void` (`id`);--> statement-breakpoint
CREATE UNIQUE INDEX `calibration_void_client_id_unique` ON `calibration_void` (`client_id`);--> statement-breakpoint
CREATE TABLE `correction` (
	`id` text PRIMARY KEY NOT NULL,
	`calibration` text NOT NULL,
	`stream` integer NOT NULL,
	`from_at` integer NOT NULL,
	`to_at` integer NOT NULL,
	`fouling` real NOT NULL,
	`standards` text NOT NULL,
	`by_name` text NOT NULL,
	`by_id` text NOT NULL,
	`reason` text NOT NULL,
	`received` integer NOT NULL,
	CONSTRAINT "correction_fouling_finite" CHECK(abs("correction"."fouling") <= 1.7976931348623157e308)
) STRICT;
--> statement-breakpoint
CREATE UNIQUE INDEX `correction_calibration_unique` ON `correction` (`calibration`);--> statement-breakpoint
CREATE INDEX `correction_stream` ON `correction` (`stream`,`from_at`);
--> statement-breakpoint
-- Written by hand from here: what the generator cannot express (and STRICT above).
CREATE TRIGGER `calibration_no_update` BEFORE UPDATE ON `calibration` BEGIN SELECT RAISE(ABORT, 'a calibration as recorded never changes: void it and record another'); END;
--> statement-breakpoint
CREATE TRIGGER `calibration_no_delete` BEFORE DELETE ON `calibration` BEGIN SELECT RAISE(ABORT, 'a calibration as recorded never changes: void it and record another'); END;
--> statement-breakpoint
CREATE TRIGGER `calibration_void_no_update` BEFORE UPDATE ON `calibration_void` BEGIN SELECT RAISE(ABORT, 'a void never changes'); END;
--> statement-breakpoint
CREATE TRIGGER `calibration_void_no_delete` BEFORE DELETE ON `calibration_void` BEGIN SELECT RAISE(ABORT, 'a void never changes'); END;
--> statement-breakpoint
CREATE TRIGGER `correction_no_update` BEFORE UPDATE ON `correction` BEGIN SELECT RAISE(ABORT, 'a correction as recorded never changes: void its calibration'); END;
--> statement-breakpoint
CREATE TRIGGER `correction_no_delete` BEFORE DELETE ON `correction` BEGIN SELECT RAISE(ABORT, 'a correction as recorded never changes: void its calibration'); END;
