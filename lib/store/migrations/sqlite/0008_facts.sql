ALTER TABLE `bench_result` ADD `answer` text;--> statement-breakpoint
ALTER TABLE `bench_result` ADD `asked` text;--> statement-breakpoint
ALTER TABLE `journal` ADD `system` text;--> statement-breakpoint
ALTER TABLE `journal` ADD `stream` integer;--> statement-breakpoint
ALTER TABLE `journal` ADD `since` integer;
--> statement-breakpoint
-- Written by hand from here: what stood in sentences moves into the columns. No word is lost, and nothing that a person typed changes.
DROP TRIGGER `bench_result_no_update`;
--> statement-breakpoint
UPDATE `bench_result` SET `answer` = 'right', `asked` = nullif(ltrim(substr(`reason`, 30)), ''), `reason` = NULL
	WHERE substr(`reason`, 1, 29) = 'Asked and confirmed as right.';
--> statement-breakpoint
UPDATE `bench_result` SET `answer` = 'again', `asked` = nullif(ltrim(substr(`reason`, 22)), ''), `reason` = NULL
	WHERE substr(`reason`, 1, 21) = 'Not sure, test again.';
--> statement-breakpoint
UPDATE `bench_result` SET `answer` = 'unanswered', `asked` = nullif(ltrim(substr(`reason`, 24)), ''), `reason` = NULL
	WHERE substr(`reason`, 1, 23) = 'Asked and not answered.';
--> statement-breakpoint
CREATE TRIGGER `bench_result_no_update` BEFORE UPDATE ON `bench_result` BEGIN SELECT RAISE(ABORT, 'a result as typed never changes: record a correction'); END;
--> statement-breakpoint
UPDATE `journal` SET
	`system` = substr(rtrim(`ref`, '-0123456789'), 8, length(rtrim(`ref`, '-0123456789')) - 8),
	`since` = CAST(substr(`ref`, length(rtrim(`ref`, '-0123456789')) + 1) AS integer),
	`ref` = NULL
	WHERE `kind` = 'set-up' AND `ref` LIKE 'system:_%@%';
--> statement-breakpoint
UPDATE `journal` SET
	`stream` = CAST(substr(rtrim(`ref`, '-0123456789'), 8, length(rtrim(`ref`, '-0123456789')) - 8) AS integer),
	`since` = CAST(substr(`ref`, length(rtrim(`ref`, '-0123456789')) + 1) AS integer),
	`ref` = NULL
	WHERE `kind` = 'calibration' AND `ref` LIKE 'stream:_%@%';
