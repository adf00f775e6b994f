CREATE TABLE `band_basis` (
	`band` text PRIMARY KEY NOT NULL,
	`basis` text NOT NULL
) STRICT;
--> statement-breakpoint
CREATE TABLE `breeding_event` (
	`id` text PRIMARY KEY NOT NULL,
	`watch` text,
	`system` text NOT NULL,
	`animal` text,
	`kind` text NOT NULL,
	`at` integer NOT NULL,
	`data` text NOT NULL,
	`by_name` text NOT NULL,
	`recorded_at` integer NOT NULL,
	`supersedes` text
) STRICT;
--> statement-breakpoint
CREATE INDEX `breeding_event_system` ON `breeding_event` (`system`,`at`);--> statement-breakpoint
CREATE TABLE `breeding_watch` (
	`id` text PRIMARY KEY NOT NULL,
	`system` text NOT NULL,
	`animal` text NOT NULL,
	`species` text NOT NULL,
	`kind` text NOT NULL,
	`first_at` integer,
	`last_at` integer,
	`may_delay` integer NOT NULL,
	`shortest_days` real NOT NULL,
	`longest_days` real NOT NULL,
	`source` text NOT NULL,
	`narrowed` text,
	`opened_at` integer NOT NULL,
	`opened_by` text NOT NULL,
	`outcome` text,
	`ended_at` integer
) STRICT;
--> statement-breakpoint
CREATE INDEX `breeding_watch_system` ON `breeding_watch` (`system`);--> statement-breakpoint
CREATE TABLE `compromise` (
	`id` text PRIMARY KEY NOT NULL,
	`system` text NOT NULL,
	`quantity` text NOT NULL,
	`months` text NOT NULL,
	`low_species` text NOT NULL,
	`low_stage` text NOT NULL,
	`high_species` text NOT NULL,
	`high_stage` text NOT NULL,
	`low` real NOT NULL,
	`high` real NOT NULL,
	`action_low` real,
	`action_high` real,
	`reason` text NOT NULL,
	`signed_by` text NOT NULL,
	`signed_at` integer NOT NULL,
	`valid_from` integer NOT NULL,
	`valid_to` integer
) STRICT;
--> statement-breakpoint
CREATE INDEX `compromise_system` ON `compromise` (`system`,`quantity`);--> statement-breakpoint
CREATE TABLE `home_water_series` (
	`id` text PRIMARY KEY NOT NULL,
	`name` text NOT NULL,
	`latitude` real NOT NULL,
	`longitude` real NOT NULL,
	`quantity` text NOT NULL,
	`months` text NOT NULL,
	`source` text NOT NULL,
	`recorded_at` integer NOT NULL,
	`recorded_by` text NOT NULL,
	`reason` text NOT NULL,
	`withdrawn_at` integer
) STRICT;
--> statement-breakpoint
CREATE TABLE `light_plan` (
	`id` text PRIMARY KEY NOT NULL,
	`system` text NOT NULL,
	`hours` text NOT NULL,
	`middle` text NOT NULL,
	`latitude` real,
	`shift_days` real NOT NULL,
	`valid_from` integer NOT NULL,
	`valid_to` integer,
	`set_by` text NOT NULL,
	`recorded_at` integer NOT NULL,
	`reason` text NOT NULL,
	`source` text NOT NULL
) STRICT;
--> statement-breakpoint
CREATE INDEX `light_plan_system` ON `light_plan` (`system`);--> statement-breakpoint
CREATE TABLE `profile` (
	`id` text PRIMARY KEY NOT NULL,
	`species` text NOT NULL,
	`population` text,
	`version` integer NOT NULL,
	`latitude` real,
	`longitude` real,
	`recorded_at` integer NOT NULL,
	`recorded_by` text NOT NULL,
	`reason` text NOT NULL
) STRICT;
--> statement-breakpoint
CREATE INDEX `profile_species` ON `profile` (`species`,`population`,`version`);--> statement-breakpoint
CREATE TABLE `profile_entry` (
	`profile` text NOT NULL,
	`place` integer NOT NULL,
	`quantity` text NOT NULL,
	`stage` text,
	`month` integer,
	`low` real,
	`typical` real,
	`high` real,
	`means` text NOT NULL,
	`kind` text NOT NULL,
	`depth` text,
	`where_at` text,
	`years` text,
	`source` text NOT NULL,
	`mark` text NOT NULL,
	`method` text,
	`confidence` text NOT NULL,
	`note` text,
	PRIMARY KEY(`profile`, `place`),
	FOREIGN KEY (`profile`) REFERENCES `profile`(`id`) ON UPDATE no action ON DELETE no action
) STRICT;
--> statement-breakpoint
CREATE TABLE `season_plan` (
	`id` text PRIMARY KEY NOT NULL,
	`system` text NOT NULL,
	`quantity` text NOT NULL,
	`set_points` text NOT NULL,
	`valid_from` integer NOT NULL,
	`valid_to` integer,
	`adopted_by` text NOT NULL,
	`adopted_at` integer NOT NULL,
	`reason` text NOT NULL,
	`source` text NOT NULL
) STRICT;
--> statement-breakpoint
CREATE INDEX `season_plan_system` ON `season_plan` (`system`,`quantity`);--> statement-breakpoint
ALTER TABLE `resident` ADD `animal` text;--> statement-breakpoint
ALTER TABLE `resident` ADD `population` text;--> statement-breakpoint
ALTER TABLE `resident` ADD `sex` text;--> statement-breakpoint
ALTER TABLE `resident` ADD `ended` text;--> statement-breakpoint
CREATE INDEX `resident_animal` ON `resident` (`animal`);--> statement-breakpoint
ALTER TABLE `species` ADD `scientific` text;--> statement-breakpoint
ALTER TABLE `species` ADD `group_name` text;--> statement-breakpoint
ALTER TABLE `species` ADD `development` text;--> statement-breakpoint
ALTER TABLE `species` ADD `may_delay` integer;--> statement-breakpoint
ALTER TABLE `species` ADD `delay_source` text;--> statement-breakpoint
ALTER TABLE `species` ADD `facts` text;--> statement-breakpoint
ALTER TABLE `target_band` ADD `origin` text;--> statement-breakpoint
ALTER TABLE `target_band` ADD `confirmed_by` text;