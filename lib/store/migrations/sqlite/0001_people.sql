CREATE TABLE `acknowledgement` (
	`id` text PRIMARY KEY NOT NULL,
	`client_id` text NOT NULL,
	`alarm` text NOT NULL,
	`by_name` text NOT NULL,
	`by_id` text NOT NULL,
	`note` text,
	`at` integer NOT NULL,
	`received` integer NOT NULL
) STRICT;
--> statement-breakpoint
CREATE UNIQUE INDEX `acknowledgement_client_id_unique` ON `acknowledgement` (`client_id`);--> statement-breakpoint
CREATE INDEX `acknowledgement_alarm` ON `acknowledgement` (`alarm`);--> statement-breakpoint
CREATE TABLE `api_token` (
	`id` text PRIMARY KEY NOT NULL,
	`name` text NOT NULL,
	`hash` text NOT NULL,
	`role` text NOT NULL,
	`site` text,
	`system` text,
	`made_by` text NOT NULL,
	`made` integer NOT NULL,
	`expires` integer NOT NULL,
	`revoked` integer
) STRICT;
--> statement-breakpoint
CREATE UNIQUE INDEX `api_token_hash_unique` ON `api_token` (`hash`);--> statement-breakpoint
CREATE TABLE `attempt` (
	`key` text PRIMARY KEY NOT NULL,
	`count` integer NOT NULL,
	`since` integer NOT NULL
) STRICT;
--> statement-breakpoint
CREATE TABLE `audit` (
	`seq` integer PRIMARY KEY NOT NULL,
	`at` integer NOT NULL,
	`actor` text NOT NULL,
	`actor_id` text NOT NULL,
	`verb` text NOT NULL,
	`subject` text NOT NULL,
	`record` text NOT NULL,
	`before` text NOT NULL,
	`hash` text NOT NULL
) STRICT;
--> statement-breakpoint
CREATE INDEX `audit_subject` ON `audit` (`subject`);--> statement-breakpoint
CREATE TABLE `audit_head` (
	`name` text PRIMARY KEY NOT NULL,
	`seq` integer NOT NULL,
	`hash` text NOT NULL
) STRICT;
--> statement-breakpoint
CREATE TABLE `bench_void` (
	`result` text PRIMARY KEY NOT NULL,
	`id` text NOT NULL,
	`client_id` text NOT NULL,
	`by_name` text NOT NULL,
	`by_id` text NOT NULL,
	`reason` text NOT NULL,
	`at` integer NOT NULL,
	`received` integer NOT NULL
) STRICT;
--> statement-breakpoint
CREATE UNIQUE INDEX `bench_void_id_unique` ON `bench_void` (`id`);--> statement-breakpoint
CREATE UNIQUE INDEX `bench_void_client_id_unique` ON `bench_void` (`client_id`);--> statement-breakpoint
CREATE TABLE `credential` (
	`id` text PRIMARY KEY NOT NULL,
	`account` text NOT NULL,
	`provider` text NOT NULL,
	`person` text NOT NULL,
	`password` text,
	`created_at` integer NOT NULL,
	`updated_at` integer NOT NULL,
	FOREIGN KEY (`person`) REFERENCES `person`(`id`) ON UPDATE no action ON DELETE no action
) STRICT;
--> statement-breakpoint
CREATE UNIQUE INDEX `credential_person_provider` ON `credential` (`person`,`provider`);--> statement-breakpoint
CREATE TABLE `handover` (
	`id` text PRIMARY KEY NOT NULL,
	`client_id` text NOT NULL,
	`from_at` integer NOT NULL,
	`to_at` integer NOT NULL,
	`signed` integer NOT NULL,
	`signed_by` text NOT NULL,
	`signed_by_id` text NOT NULL,
	`passes_to` text,
	`unanswered` integer NOT NULL,
	`note` text NOT NULL,
	`copy` text NOT NULL,
	`hash` text NOT NULL
) STRICT;
--> statement-breakpoint
CREATE UNIQUE INDEX `handover_client_id_unique` ON `handover` (`client_id`);--> statement-breakpoint
CREATE INDEX `handover_signed` ON `handover` (`signed`);--> statement-breakpoint
CREATE TABLE `log_entry` (
	`id` text PRIMARY KEY NOT NULL,
	`root` text NOT NULL,
	`client_id` text NOT NULL,
	`change` text NOT NULL,
	`supersedes` text,
	`reason` text,
	`kind` text NOT NULL,
	`point` text,
	`quantity` text,
	`at` integer NOT NULL,
	`until_at` integer,
	`open` integer NOT NULL,
	`expected` integer,
	`amount` real,
	`unit` text,
	`item` text,
	`animals` text NOT NULL,
	`text` text NOT NULL,
	`alarm` text,
	`by_name` text NOT NULL,
	`by_id` text NOT NULL,
	`entered` integer NOT NULL,
	`received` integer NOT NULL,
	CONSTRAINT "log_entry_amount_finite" CHECK(abs("log_entry"."amount") <= 1.7976931348623157e308)
) STRICT;
--> statement-breakpoint
CREATE UNIQUE INDEX `log_entry_client_id_unique` ON `log_entry` (`client_id`);--> statement-breakpoint
CREATE INDEX `log_entry_root` ON `log_entry` (`root`);--> statement-breakpoint
CREATE INDEX `log_entry_at` ON `log_entry` (`at`);--> statement-breakpoint
CREATE INDEX `log_entry_alarm` ON `log_entry` (`alarm`);--> statement-breakpoint
CREATE UNIQUE INDEX `log_entry_supersedes` ON `log_entry` (`supersedes`);--> statement-breakpoint
CREATE TABLE `log_entry_system` (
	`entry` text NOT NULL,
	`system` text NOT NULL,
	`place` integer NOT NULL,
	PRIMARY KEY(`entry`, `system`),
	FOREIGN KEY (`entry`) REFERENCES `log_entry`(`id`) ON UPDATE no action ON DELETE no action
) STRICT;
--> statement-breakpoint
CREATE INDEX `log_entry_system_system` ON `log_entry_system` (`system`);--> statement-breakpoint
CREATE TABLE `person` (
	`id` text PRIMARY KEY NOT NULL,
	`user_name` text NOT NULL,
	`name` text NOT NULL,
	`email` text NOT NULL,
	`email_verified` integer NOT NULL,
	`image` text,
	`disabled` integer NOT NULL,
	`must_change` integer NOT NULL,
	`one_time_until` integer,
	`created_at` integer NOT NULL,
	`updated_at` integer NOT NULL,
	`last_sign_in` integer
) STRICT;
--> statement-breakpoint
CREATE UNIQUE INDEX `person_user_name_unique` ON `person` (`user_name`);--> statement-breakpoint
CREATE UNIQUE INDEX `person_email_unique` ON `person` (`email`);--> statement-breakpoint
CREATE TABLE `role_grant` (
	`number` integer PRIMARY KEY AUTOINCREMENT NOT NULL,
	`person` text NOT NULL,
	`role` text NOT NULL,
	`site` text,
	`system` text,
	FOREIGN KEY (`person`) REFERENCES `person`(`id`) ON UPDATE no action ON DELETE no action
) STRICT;
--> statement-breakpoint
CREATE INDEX `role_grant_person` ON `role_grant` (`person`);--> statement-breakpoint
CREATE TABLE `session` (
	`id` text PRIMARY KEY NOT NULL,
	`token` text NOT NULL,
	`person` text NOT NULL,
	`expires_at` integer NOT NULL,
	`created_at` integer NOT NULL,
	`updated_at` integer NOT NULL,
	`address` text,
	`user_agent` text,
	FOREIGN KEY (`person`) REFERENCES `person`(`id`) ON UPDATE no action ON DELETE no action
) STRICT;
--> statement-breakpoint
CREATE UNIQUE INDEX `session_token_unique` ON `session` (`token`);--> statement-breakpoint
CREATE INDEX `session_person` ON `session` (`person`);
--> statement-breakpoint
-- Written by hand from here: what the generator cannot express (and STRICT above).
CREATE TRIGGER `audit_no_update` BEFORE UPDATE ON `audit` BEGIN SELECT RAISE(ABORT, 'the audit trail never changes'); END;
--> statement-breakpoint
CREATE TRIGGER `audit_no_delete` BEFORE DELETE ON `audit` BEGIN SELECT RAISE(ABORT, 'the audit trail never changes'); END;
--> statement-breakpoint
CREATE TRIGGER `acknowledgement_no_update` BEFORE UPDATE ON `acknowledgement` BEGIN SELECT RAISE(ABORT, 'an acknowledgement never changes'); END;
--> statement-breakpoint
CREATE TRIGGER `acknowledgement_no_delete` BEFORE DELETE ON `acknowledgement` BEGIN SELECT RAISE(ABORT, 'an acknowledgement never changes'); END;
--> statement-breakpoint
CREATE TRIGGER `bench_void_no_update` BEFORE UPDATE ON `bench_void` BEGIN SELECT RAISE(ABORT, 'a void never changes'); END;
--> statement-breakpoint
CREATE TRIGGER `bench_void_no_delete` BEFORE DELETE ON `bench_void` BEGIN SELECT RAISE(ABORT, 'a void never changes'); END;
--> statement-breakpoint
CREATE TRIGGER `log_entry_no_update` BEFORE UPDATE ON `log_entry` BEGIN SELECT RAISE(ABORT, 'a log entry as written never changes: record a correction'); END;
--> statement-breakpoint
CREATE TRIGGER `log_entry_no_delete` BEFORE DELETE ON `log_entry` BEGIN SELECT RAISE(ABORT, 'a log entry as written never changes: record a correction'); END;
--> statement-breakpoint
CREATE TRIGGER `log_entry_system_no_update` BEFORE UPDATE ON `log_entry_system` BEGIN SELECT RAISE(ABORT, 'a log entry as written never changes: record a correction'); END;
--> statement-breakpoint
CREATE TRIGGER `log_entry_system_no_delete` BEFORE DELETE ON `log_entry_system` BEGIN SELECT RAISE(ABORT, 'a log entry as written never changes: record a correction'); END;
--> statement-breakpoint
CREATE TRIGGER `handover_no_update` BEFORE UPDATE ON `handover` BEGIN SELECT RAISE(ABORT, 'a signed handover never changes'); END;
--> statement-breakpoint
CREATE TRIGGER `handover_no_delete` BEFORE DELETE ON `handover` BEGIN SELECT RAISE(ABORT, 'a signed handover never changes'); END;
--> statement-breakpoint
INSERT INTO `audit_head` (`name`, `seq`, `hash`) VALUES ('head', 0, '');
--> statement-breakpoint
INSERT INTO `counter` (`name`, `value`) VALUES ('people', 0);
