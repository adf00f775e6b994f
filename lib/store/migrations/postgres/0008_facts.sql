ALTER TABLE "bench_result" ADD COLUMN "answer" text;--> statement-breakpoint
ALTER TABLE "bench_result" ADD COLUMN "asked" text;--> statement-breakpoint
ALTER TABLE "journal" ADD COLUMN "system" text;--> statement-breakpoint
ALTER TABLE "journal" ADD COLUMN "stream" integer;--> statement-breakpoint
ALTER TABLE "journal" ADD COLUMN "since" bigint;