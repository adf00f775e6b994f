CREATE TABLE "clock_placement" (
	"id" text PRIMARY KEY NOT NULL,
	"client_id" text NOT NULL,
	"clock" text NOT NULL,
	"offset_ms" bigint NOT NULL,
	"by_name" text NOT NULL,
	"by_id" text NOT NULL,
	"received" bigint NOT NULL,
	CONSTRAINT "clock_placement_client_id_unique" UNIQUE("client_id")
);
--> statement-breakpoint
CREATE TABLE "clock_placement_void" (
	"placement" text PRIMARY KEY NOT NULL,
	"id" text NOT NULL,
	"client_id" text NOT NULL,
	"by_name" text NOT NULL,
	"by_id" text NOT NULL,
	"reason" text NOT NULL,
	"at" bigint NOT NULL,
	"received" bigint NOT NULL,
	CONSTRAINT "clock_placement_void_id_unique" UNIQUE("id"),
	CONSTRAINT "clock_placement_void_client_id_unique" UNIQUE("client_id")
);
--> statement-breakpoint
CREATE TABLE "sender_clock" (
	"id" text PRIMARY KEY NOT NULL,
	"clock" text NOT NULL,
	"source" integer NOT NULL,
	"stream" integer NOT NULL,
	"since" bigint NOT NULL,
	"until" bigint,
	"offset_ms" bigint NOT NULL,
	"uncertainty_ms" bigint NOT NULL
);
--> statement-breakpoint
ALTER TABLE "resident" ADD COLUMN "mass" double precision;--> statement-breakpoint
ALTER TABLE "resident" ADD COLUMN "mass_at" bigint;--> statement-breakpoint
ALTER TABLE "resident" ADD COLUMN "mass_source" text;--> statement-breakpoint
CREATE INDEX "clock_placement_clock" ON "clock_placement" USING btree ("clock");--> statement-breakpoint
CREATE UNIQUE INDEX "sender_clock_key" ON "sender_clock" USING btree ("stream","source","since");--> statement-breakpoint
CREATE INDEX "sender_clock_clock" ON "sender_clock" USING btree ("clock");
--> statement-breakpoint
-- Written by hand from here: what the generator cannot express.
CREATE TRIGGER "clock_placement_no_update" BEFORE UPDATE ON "clock_placement" FOR EACH ROW EXECUTE FUNCTION homewater_refuse_change('a placement as recorded never changes: void it and record another');
--> statement-breakpoint
CREATE TRIGGER "clock_placement_no_delete" BEFORE DELETE ON "clock_placement" FOR EACH ROW EXECUTE FUNCTION homewater_refuse_change('a placement as recorded never changes: void it and record another');
--> statement-breakpoint
CREATE TRIGGER "clock_placement_no_truncate" BEFORE TRUNCATE ON "clock_placement" FOR EACH STATEMENT EXECUTE FUNCTION homewater_refuse_change('a placement as recorded never changes: void it and record another');
--> statement-breakpoint
CREATE TRIGGER "clock_placement_void_no_update" BEFORE UPDATE ON "clock_placement_void" FOR EACH ROW EXECUTE FUNCTION homewater_refuse_change('a void never changes');
--> statement-breakpoint
CREATE TRIGGER "clock_placement_void_no_delete" BEFORE DELETE ON "clock_placement_void" FOR EACH ROW EXECUTE FUNCTION homewater_refuse_change('a void never changes');
--> statement-breakpoint
CREATE TRIGGER "clock_placement_void_no_truncate" BEFORE TRUNCATE ON "clock_placement_void" FOR EACH STATEMENT EXECUTE FUNCTION homewater_refuse_change('a void never changes');
