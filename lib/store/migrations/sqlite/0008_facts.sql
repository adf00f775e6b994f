ALTER TABLE `bench_result` ADD `answer` text;--> statement-breakpoint
ALTER TABLE `bench_result` ADD `asked` text;--> statement-breakpoint
ALTER TABLE `journal` ADD `system` text;--> statement-breakpoint
ALTER TABLE `journal` ADD `stream` integer;--> statement-breakpoint
ALTER TABLE `journal` ADD `since` integer;