ALTER TABLE "bench_result" ADD COLUMN "answer" text;--> statement-breakpoint
ALTER TABLE "bench_result" ADD COLUMN "asked" text;--> statement-breakpoint
ALTER TABLE "journal" ADD COLUMN "system" text;--> statement-breakpoint
ALTER TABLE "journal" ADD COLUMN "stream" integer;--> statement-breakpoint
ALTER TABLE "journal" ADD COLUMN "since" bigint;
--> statement-breakpoint
-- Written by hand from here: what stood in sentences moves into the columns. No word is lost, and nothing that a person typed changes.
DROP TRIGGER "bench_result_no_update" ON "bench_result";
--> statement-breakpoint
UPDATE "bench_result" SET "answer" = 'right', "asked" = nullif(ltrim(substr("reason", 30)), ''), "reason" = NULL
	WHERE substr("reason", 1, 29) = 'Asked and confirmed as right.';
--> statement-breakpoint
UPDATE "bench_result" SET "answer" = 'again', "asked" = nullif(ltrim(substr("reason", 22)), ''), "reason" = NULL
	WHERE substr("reason", 1, 21) = 'Not sure, test again.';
--> statement-breakpoint
UPDATE "bench_result" SET "answer" = 'unanswered', "asked" = nullif(ltrim(substr("reason", 24)), ''), "reason" = NULL
	WHERE substr("reason", 1, 23) = 'Asked and not answered.';
--> statement-breakpoint
CREATE TRIGGER "bench_result_no_update" BEFORE UPDATE ON "bench_result" FOR EACH ROW EXECUTE FUNCTION homewater_refuse_change('a result as typed never changes: record a correction');
--> statement-breakpoint
UPDATE "journal" SET
	"system" = substring("ref" from '^system:(.+)@-?[0-9]+$'),
	"since" = substring("ref" from '@(-?[0-9]+)$')::bigint,
	"ref" = NULL
	WHERE "kind" = 'set-up' AND "ref" ~ '^system:.+@-?[0-9]+$';
--> statement-breakpoint
UPDATE "journal" SET
	"stream" = substring("ref" from '^stream:([0-9]+)@-?[0-9]+$')::integer,
	"since" = substring("ref" from '@(-?[0-9]+)$')::bigint,
	"ref" = NULL
	WHERE "kind" = 'calibration' AND "ref" ~ '^stream:[0-9]+@-?[0-9]+$';
