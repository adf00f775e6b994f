CREATE TABLE "backup_run" (
	"number" bigint PRIMARY KEY GENERATED ALWAYS AS IDENTITY (sequence name "backup_run_number_seq" INCREMENT BY 1 MINVALUE 1 MAXVALUE 9223372036854775807 START WITH 1 CACHE 1),
	"file" text NOT NULL,
	"bytes" bigint NOT NULL,
	"began" bigint NOT NULL,
	"finished" bigint NOT NULL,
	"trouble" text,
	"readings" bigint,
	"up_to" bigint
);
--> statement-breakpoint
CREATE TABLE "import_run" (
	"id" text PRIMARY KEY NOT NULL,
	"source" integer NOT NULL,
	"file" text NOT NULL,
	"bytes" bigint NOT NULL,
	"fingerprint" text NOT NULL,
	"plan" text NOT NULL,
	"state" text NOT NULL,
	"position" text,
	"report" text NOT NULL,
	"stored" bigint NOT NULL,
	"begun" bigint NOT NULL,
	"begun_by" text NOT NULL,
	"changed" bigint NOT NULL,
	"finished" bigint,
	"withdrawn" bigint,
	"withdrawn_by" text,
	"reason" text,
	CONSTRAINT "import_run_source_unique" UNIQUE("source")
);
--> statement-breakpoint
CREATE TABLE "process_report" (
	"name" text PRIMARY KEY NOT NULL,
	"host" text NOT NULL,
	"pid" bigint NOT NULL,
	"started" bigint NOT NULL,
	"at" bigint NOT NULL,
	"report" text NOT NULL
);
--> statement-breakpoint
CREATE TABLE "withdrawn_reading" (
	"source" integer NOT NULL,
	"stream" integer NOT NULL,
	"at" bigint NOT NULL,
	"value" double precision NOT NULL,
	"delay" bigint NOT NULL,
	"sequence" bigint,
	CONSTRAINT "withdrawn_reading_source_stream_at_pk" PRIMARY KEY("source","stream","at")
);
--> statement-breakpoint
DROP INDEX "reading_conflict_key";--> statement-breakpoint
CREATE UNIQUE INDEX "reading_conflict_key" ON "reading_conflict" USING btree ("stream","at","value","source");
--> statement-breakpoint
-- Written by hand from here.
-- The one change a reading may see: once its import is withdrawn and the row as received is kept, its place may be taken.
CREATE FUNCTION homewater_reading_change() RETURNS trigger LANGUAGE plpgsql AS $$ BEGIN IF NEW."stream" IS DISTINCT FROM OLD."stream" OR NEW."at" IS DISTINCT FROM OLD."at" OR NOT EXISTS (SELECT 1 FROM "import_run" AS i WHERE i."source" = OLD."source" AND i."withdrawn" IS NOT NULL) OR NOT EXISTS (SELECT 1 FROM "withdrawn_reading" AS w WHERE w."source" = OLD."source" AND w."stream" = OLD."stream" AND w."at" = OLD."at" AND w."value" = OLD."value" AND w."delay" = OLD."delay") THEN RAISE EXCEPTION 'a reading as received never changes' USING ERRCODE = 'integrity_constraint_violation'; END IF; RETURN NEW; END $$;
--> statement-breakpoint
DROP TRIGGER "reading_no_update" ON "reading";
--> statement-breakpoint
CREATE TRIGGER "reading_no_update" BEFORE UPDATE ON "reading" FOR EACH ROW EXECUTE FUNCTION homewater_reading_change();
--> statement-breakpoint
CREATE TRIGGER "withdrawn_reading_no_update" BEFORE UPDATE ON "withdrawn_reading" FOR EACH ROW EXECUTE FUNCTION homewater_refuse_change('a reading as received never changes');
--> statement-breakpoint
CREATE TRIGGER "withdrawn_reading_no_delete" BEFORE DELETE ON "withdrawn_reading" FOR EACH ROW EXECUTE FUNCTION homewater_refuse_change('a reading as received never changes');
--> statement-breakpoint
CREATE TRIGGER "withdrawn_reading_no_truncate" BEFORE TRUNCATE ON "withdrawn_reading" FOR EACH STATEMENT EXECUTE FUNCTION homewater_refuse_change('a reading as received never changes');
--> statement-breakpoint
CREATE TRIGGER "import_run_no_delete" BEFORE DELETE ON "import_run" FOR EACH ROW EXECUTE FUNCTION homewater_refuse_change('an import never changes back: its rows point at it');
--> statement-breakpoint
CREATE TRIGGER "import_run_no_truncate" BEFORE TRUNCATE ON "import_run" FOR EACH STATEMENT EXECUTE FUNCTION homewater_refuse_change('an import never changes back: its rows point at it');
