CREATE TABLE "calibration" (
	"id" text PRIMARY KEY NOT NULL,
	"client_id" text NOT NULL,
	"stream" integer NOT NULL,
	"kind" text NOT NULL,
	"from_at" bigint NOT NULL,
	"at" bigint NOT NULL,
	"read_before" double precision,
	"read_after" double precision,
	"moved" double precision,
	"standards" text NOT NULL,
	"slope" double precision,
	"offset_mv" double precision,
	"item" text,
	"note" text NOT NULL,
	"by_name" text NOT NULL,
	"by_id" text NOT NULL,
	"entered" bigint NOT NULL,
	"received" bigint NOT NULL,
	CONSTRAINT "calibration_client_id_unique" UNIQUE("client_id"),
	CONSTRAINT "calibration_before_finite" CHECK ("calibration"."read_before" > '-Infinity'::float8 and "calibration"."read_before" < 'Infinity'::float8),
	CONSTRAINT "calibration_after_finite" CHECK ("calibration"."read_after" > '-Infinity'::float8 and "calibration"."read_after" < 'Infinity'::float8),
	CONSTRAINT "calibration_moved_finite" CHECK ("calibration"."moved" > '-Infinity'::float8 and "calibration"."moved" < 'Infinity'::float8)
);
--> statement-breakpoint
CREATE TABLE "calibration_void" (
	"calibration" text PRIMARY KEY NOT NULL,
	"id" text NOT NULL,
	"client_id" text NOT NULL,
	"by_name" text NOT NULL,
	"by_id" text NOT NULL,
	"reason" text NOT NULL,
	"at" bigint NOT NULL,
	"received" bigint NOT NULL,
	CONSTRAINT "calibration_void_id_unique" UNIQUE("id"),
	CONSTRAINT "calibration_void_client_id_unique" UNIQUE("client_id")
);
--> statement-breakpoint
CREATE TABLE "correction" (
	"id" text PRIMARY KEY NOT NULL,
	"calibration" text NOT NULL,
	"stream" integer NOT NULL,
	"from_at" bigint NOT NULL,
	"to_at" bigint NOT NULL,
	"fouling" double precision NOT NULL,
	"standards" text NOT NULL,
	"by_name" text NOT NULL,
	"by_id" text NOT NULL,
	"reason" text NOT NULL,
	"received" bigint NOT NULL,
	CONSTRAINT "correction_calibration_unique" UNIQUE("calibration"),
	CONSTRAINT "correction_fouling_finite" CHECK ("correction"."fouling" > '-Infinity'::float8 and "correction"."fouling" < 'Infinity'::float8)
);
--> statement-breakpoint
CREATE INDEX "calibration_stream" ON "calibration" USING btree ("stream","at");--> statement-breakpoint
CREATE INDEX "correction_stream" ON "correction" USING btree ("stream","from_at");
--> statement-breakpoint
-- Written by hand from here: what the generator cannot express.
CREATE TRIGGER "calibration_no_update" BEFORE UPDATE ON "calibration" FOR EACH ROW EXECUTE FUNCTION homewater_refuse_change('a calibration as recorded never changes: void it and record another');
--> statement-breakpoint
CREATE TRIGGER "calibration_no_delete" BEFORE DELETE ON "calibration" FOR EACH ROW EXECUTE FUNCTION homewater_refuse_change('a calibration as recorded never changes: void it and record another');
--> statement-breakpoint
CREATE TRIGGER "calibration_void_no_update" BEFORE UPDATE ON "calibration_void" FOR EACH ROW EXECUTE FUNCTION homewater_refuse_change('a void never changes');
--> statement-breakpoint
CREATE TRIGGER "calibration_void_no_delete" BEFORE DELETE ON "calibration_void" FOR EACH ROW EXECUTE FUNCTION homewater_refuse_change('a void never changes');
--> statement-breakpoint
CREATE TRIGGER "correction_no_update" BEFORE UPDATE ON "correction" FOR EACH ROW EXECUTE FUNCTION homewater_refuse_change('a correction as recorded never changes: void its calibration');
--> statement-breakpoint
CREATE TRIGGER "correction_no_delete" BEFORE DELETE ON "correction" FOR EACH ROW EXECUTE FUNCTION homewater_refuse_change('a correction as recorded never changes: void its calibration');
--> statement-breakpoint
CREATE TRIGGER "calibration_no_truncate" BEFORE TRUNCATE ON "calibration" FOR EACH STATEMENT EXECUTE FUNCTION homewater_refuse_change('a calibration as recorded never changes: void it and record another');
--> statement-breakpoint
CREATE TRIGGER "calibration_void_no_truncate" BEFORE TRUNCATE ON "calibration_void" FOR EACH STATEMENT EXECUTE FUNCTION homewater_refuse_change('a void never changes');
--> statement-breakpoint
CREATE TRIGGER "correction_no_truncate" BEFORE TRUNCATE ON "correction" FOR EACH STATEMENT EXECUTE FUNCTION homewater_refuse_change('a correction as recorded never changes: void its calibration');
