CREATE TABLE "alarm" (
	"id" text PRIMARY KEY NOT NULL,
	"finding" text NOT NULL,
	"system" text NOT NULL,
	"stream" integer NOT NULL,
	"quantity" text NOT NULL,
	"kind" text NOT NULL,
	"rule" text NOT NULL,
	"severity" text NOT NULL,
	"state" text NOT NULL,
	"raised" bigint NOT NULL,
	"cleared" bigint,
	"acknowledged" bigint,
	"acknowledged_by" text
);
--> statement-breakpoint
CREATE TABLE "alarm_transition" (
	"number" bigint PRIMARY KEY GENERATED ALWAYS AS IDENTITY (sequence name "alarm_transition_number_seq" INCREMENT BY 1 MINVALUE 1 MAXVALUE 9223372036854775807 START WITH 1 CACHE 1),
	"alarm" text NOT NULL,
	"from_state" text NOT NULL,
	"to_state" text NOT NULL,
	"cause" text NOT NULL,
	"value" double precision,
	"limit_value" double precision,
	"event_at" bigint NOT NULL,
	"at" bigint NOT NULL
);
--> statement-breakpoint
CREATE TABLE "bench_result" (
	"id" text PRIMARY KEY NOT NULL,
	"test" text NOT NULL,
	"stream" integer NOT NULL,
	"at" bigint NOT NULL,
	"received" bigint NOT NULL,
	"quantity" text NOT NULL,
	"typed" text NOT NULL,
	"qualifier" text NOT NULL,
	"unit_typed" text NOT NULL,
	"value" double precision NOT NULL,
	"method" text,
	"replicate" integer NOT NULL,
	"supersedes" text,
	"reason" text,
	CONSTRAINT "bench_result_value_finite" CHECK ("bench_result"."value" > '-Infinity'::float8 and "bench_result"."value" < 'Infinity'::float8)
);
--> statement-breakpoint
CREATE TABLE "bench_test" (
	"id" text PRIMARY KEY NOT NULL,
	"client_id" text NOT NULL,
	"system" text NOT NULL,
	"point" text NOT NULL,
	"sampled_at" bigint NOT NULL,
	"entered_at" bigint NOT NULL,
	"received" bigint NOT NULL,
	"analyst" text NOT NULL,
	"note" text,
	CONSTRAINT "bench_test_client_id_unique" UNIQUE("client_id")
);
--> statement-breakpoint
CREATE TABLE "checkpoint" (
	"system" text NOT NULL,
	"at" bigint NOT NULL,
	"state" text NOT NULL,
	CONSTRAINT "checkpoint_system_at_pk" PRIMARY KEY("system","at")
);
--> statement-breakpoint
CREATE TABLE "counter" (
	"name" text PRIMARY KEY NOT NULL,
	"value" bigint NOT NULL
);
--> statement-breakpoint
CREATE TABLE "current" (
	"stream" integer PRIMARY KEY NOT NULL,
	"at" bigint NOT NULL,
	"value" double precision NOT NULL,
	"flag" integer NOT NULL,
	"reasons" text NOT NULL,
	"low" double precision,
	"high" double precision,
	"deviation" double precision,
	"band" text,
	"rate" double precision,
	"received" bigint NOT NULL,
	"silent_at" bigint
);
--> statement-breakpoint
CREATE TABLE "cursor" (
	"name" text PRIMARY KEY NOT NULL,
	"seq" bigint NOT NULL,
	"received" bigint NOT NULL
);
--> statement-breakpoint
CREATE TABLE "derived" (
	"stream" integer NOT NULL,
	"at" bigint NOT NULL,
	"value" double precision NOT NULL,
	"low" double precision,
	"high" double precision,
	"formula" text NOT NULL,
	CONSTRAINT "derived_stream_at_pk" PRIMARY KEY("stream","at"),
	CONSTRAINT "derived_value_finite" CHECK ("derived"."value" > '-Infinity'::float8 and "derived"."value" < 'Infinity'::float8)
);
--> statement-breakpoint
CREATE TABLE "dirty" (
	"system" text PRIMARY KEY NOT NULL,
	"from_at" bigint NOT NULL
);
--> statement-breakpoint
CREATE TABLE "finding" (
	"id" text PRIMARY KEY NOT NULL,
	"system" text NOT NULL,
	"stream" integer NOT NULL,
	"quantity" text NOT NULL,
	"kind" text NOT NULL,
	"rule" text NOT NULL,
	"severity" text NOT NULL,
	"began" bigint NOT NULL,
	"raised" bigint NOT NULL,
	"ended" bigint,
	"evidence" text NOT NULL,
	"late" boolean NOT NULL,
	"recorded_at" bigint NOT NULL,
	"superseded_at" bigint
);
--> statement-breakpoint
CREATE TABLE "flag" (
	"stream" integer NOT NULL,
	"at" bigint NOT NULL,
	"flag" integer NOT NULL,
	"reasons" text NOT NULL,
	CONSTRAINT "flag_stream_at_pk" PRIMARY KEY("stream","at")
);
--> statement-breakpoint
CREATE TABLE "journal" (
	"seq" bigint PRIMARY KEY NOT NULL,
	"kind" text NOT NULL,
	"ref" text,
	"spans" text,
	"received" bigint NOT NULL
);
--> statement-breakpoint
CREATE TABLE "lease" (
	"name" text PRIMARY KEY NOT NULL,
	"holder" text NOT NULL,
	"epoch" bigint NOT NULL,
	"expires" bigint NOT NULL
);
--> statement-breakpoint
CREATE TABLE "loop" (
	"id" text PRIMARY KEY NOT NULL,
	"site" text NOT NULL,
	"code" text NOT NULL,
	"name" text NOT NULL
);
--> statement-breakpoint
CREATE TABLE "loop_member" (
	"loop" text NOT NULL,
	"system" text NOT NULL,
	CONSTRAINT "loop_member_loop_system_pk" PRIMARY KEY("loop","system")
);
--> statement-breakpoint
CREATE TABLE "meta" (
	"key" text PRIMARY KEY NOT NULL,
	"value" text NOT NULL
);
--> statement-breakpoint
CREATE TABLE "plan" (
	"id" text PRIMARY KEY NOT NULL,
	"system" text NOT NULL,
	"quantity" text NOT NULL,
	"shape" text NOT NULL,
	"valid_from" bigint NOT NULL,
	"valid_to" bigint,
	"set_by" text NOT NULL,
	"reason" text NOT NULL
);
--> statement-breakpoint
CREATE TABLE "point" (
	"id" text PRIMARY KEY NOT NULL,
	"system" text NOT NULL,
	"code" text NOT NULL,
	"twin_of" text
);
--> statement-breakpoint
CREATE TABLE "reading" (
	"stream" integer NOT NULL,
	"at" bigint NOT NULL,
	"value" double precision NOT NULL,
	"delay" bigint NOT NULL,
	"source" integer NOT NULL,
	"sequence" bigint,
	CONSTRAINT "reading_stream_at_pk" PRIMARY KEY("stream","at"),
	CONSTRAINT "reading_value_finite" CHECK ("reading"."value" > '-Infinity'::float8 and "reading"."value" < 'Infinity'::float8)
) PARTITION BY RANGE ("at");
--> statement-breakpoint
CREATE TABLE "reading_conflict" (
	"stream" integer NOT NULL,
	"at" bigint NOT NULL,
	"value" double precision NOT NULL,
	"received" bigint NOT NULL,
	"source" integer NOT NULL,
	CONSTRAINT "reading_conflict_value_finite" CHECK ("reading_conflict"."value" > '-Infinity'::float8 and "reading_conflict"."value" < 'Infinity'::float8)
);
--> statement-breakpoint
CREATE TABLE "reading_mark" (
	"stream" integer NOT NULL,
	"at" bigint NOT NULL,
	"mark" text NOT NULL,
	"received" bigint NOT NULL,
	CONSTRAINT "reading_mark_stream_at_mark_pk" PRIMARY KEY("stream","at","mark")
);
--> statement-breakpoint
CREATE TABLE "rejected_message" (
	"topic" text NOT NULL,
	"reason" text NOT NULL,
	"sample" "bytea" NOT NULL,
	"bytes" bigint NOT NULL,
	"source" text NOT NULL,
	"count" bigint NOT NULL,
	"first_seen" bigint NOT NULL,
	"last_seen" bigint NOT NULL,
	CONSTRAINT "rejected_message_topic_reason_pk" PRIMARY KEY("topic","reason")
);
--> statement-breakpoint
CREATE TABLE "resident" (
	"id" text PRIMARY KEY NOT NULL,
	"system" text NOT NULL,
	"species" text NOT NULL,
	"name" text,
	"stage" text NOT NULL,
	"count" integer NOT NULL,
	"from_at" bigint NOT NULL,
	"to_at" bigint
);
--> statement-breakpoint
CREATE TABLE "rollup" (
	"width" integer NOT NULL,
	"stream" integer NOT NULL,
	"start" bigint NOT NULL,
	"n" integer NOT NULL,
	"good" integer NOT NULL,
	"min" double precision,
	"max" double precision,
	"sum" double precision NOT NULL,
	"first" double precision,
	"last" double precision,
	CONSTRAINT "rollup_width_stream_start_pk" PRIMARY KEY("width","stream","start"),
	CONSTRAINT "rollup_sum_finite" CHECK ("rollup"."sum" > '-Infinity'::float8 and "rollup"."sum" < 'Infinity'::float8)
);
--> statement-breakpoint
CREATE TABLE "site" (
	"id" text PRIMARY KEY NOT NULL,
	"code" text NOT NULL,
	"name" text NOT NULL,
	"zone" text NOT NULL,
	"latitude" double precision NOT NULL,
	"longitude" double precision NOT NULL,
	"elevation" double precision NOT NULL,
	CONSTRAINT "site_code_unique" UNIQUE("code")
);
--> statement-breakpoint
CREATE TABLE "source" (
	"id" integer PRIMARY KEY NOT NULL,
	"code" text NOT NULL,
	"kind" text NOT NULL,
	CONSTRAINT "source_code_unique" UNIQUE("code")
);
--> statement-breakpoint
CREATE TABLE "species" (
	"id" text PRIMARY KEY NOT NULL,
	"name" text NOT NULL
);
--> statement-breakpoint
CREATE TABLE "stream" (
	"id" integer PRIMARY KEY NOT NULL,
	"point" text NOT NULL,
	"quantity" text NOT NULL,
	"origin" text NOT NULL,
	"interval" bigint,
	"critical" boolean NOT NULL
);
--> statement-breakpoint
CREATE TABLE "system" (
	"id" text PRIMARY KEY NOT NULL,
	"site" text NOT NULL,
	"code" text NOT NULL,
	"name" text NOT NULL,
	"kind" text NOT NULL,
	"water" text NOT NULL,
	"volume" double precision NOT NULL,
	"duty" double precision,
	"opened" bigint NOT NULL,
	"closed" bigint,
	"young_filter" boolean NOT NULL,
	CONSTRAINT "system_code_unique" UNIQUE("code")
);
--> statement-breakpoint
CREATE TABLE "target_band" (
	"id" text PRIMARY KEY NOT NULL,
	"system" text NOT NULL,
	"quantity" text NOT NULL,
	"point" text,
	"months" text NOT NULL,
	"valid_from" bigint NOT NULL,
	"valid_to" bigint,
	"recorded_at" bigint NOT NULL,
	"set_by" text NOT NULL,
	"reason" text NOT NULL,
	"source" text NOT NULL
);
--> statement-breakpoint
CREATE TABLE "unclaimed_reading" (
	"topic" text NOT NULL,
	"at" bigint NOT NULL,
	"value" double precision,
	"word" text,
	"unit" text,
	"source" integer NOT NULL,
	"received" bigint NOT NULL,
	CONSTRAINT "unclaimed_reading_topic_at_pk" PRIMARY KEY("topic","at"),
	CONSTRAINT "unclaimed_reading_value_finite" CHECK ("unclaimed_reading"."value" > '-Infinity'::float8 and "unclaimed_reading"."value" < 'Infinity'::float8)
);
--> statement-breakpoint
CREATE TABLE "unclaimed_topic" (
	"topic" text PRIMARY KEY NOT NULL,
	"count" bigint NOT NULL,
	"first_seen" bigint NOT NULL,
	"last_seen" bigint NOT NULL
);
--> statement-breakpoint
ALTER TABLE "bench_result" ADD CONSTRAINT "bench_result_test_bench_test_id_fk" FOREIGN KEY ("test") REFERENCES "public"."bench_test"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "loop" ADD CONSTRAINT "loop_site_site_id_fk" FOREIGN KEY ("site") REFERENCES "public"."site"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "loop_member" ADD CONSTRAINT "loop_member_loop_loop_id_fk" FOREIGN KEY ("loop") REFERENCES "public"."loop"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "loop_member" ADD CONSTRAINT "loop_member_system_system_id_fk" FOREIGN KEY ("system") REFERENCES "public"."system"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "plan" ADD CONSTRAINT "plan_system_system_id_fk" FOREIGN KEY ("system") REFERENCES "public"."system"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "point" ADD CONSTRAINT "point_system_system_id_fk" FOREIGN KEY ("system") REFERENCES "public"."system"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "resident" ADD CONSTRAINT "resident_system_system_id_fk" FOREIGN KEY ("system") REFERENCES "public"."system"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "resident" ADD CONSTRAINT "resident_species_species_id_fk" FOREIGN KEY ("species") REFERENCES "public"."species"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "stream" ADD CONSTRAINT "stream_point_point_id_fk" FOREIGN KEY ("point") REFERENCES "public"."point"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "system" ADD CONSTRAINT "system_site_site_id_fk" FOREIGN KEY ("site") REFERENCES "public"."site"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "target_band" ADD CONSTRAINT "target_band_system_system_id_fk" FOREIGN KEY ("system") REFERENCES "public"."system"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
CREATE INDEX "alarm_state" ON "alarm" USING btree ("state","raised");--> statement-breakpoint
CREATE INDEX "alarm_raised" ON "alarm" USING btree ("raised");--> statement-breakpoint
CREATE INDEX "alarm_transition_alarm" ON "alarm_transition" USING btree ("alarm");--> statement-breakpoint
CREATE INDEX "bench_result_stream_at" ON "bench_result" USING btree ("stream","at");--> statement-breakpoint
CREATE UNIQUE INDEX "bench_result_supersedes" ON "bench_result" USING btree ("supersedes");--> statement-breakpoint
CREATE INDEX "finding_stream_began" ON "finding" USING btree ("stream","began");--> statement-breakpoint
CREATE INDEX "finding_system_began" ON "finding" USING btree ("system","began");--> statement-breakpoint
CREATE INDEX "finding_began" ON "finding" USING btree ("began");--> statement-breakpoint
CREATE UNIQUE INDEX "journal_received" ON "journal" USING btree ("received");--> statement-breakpoint
CREATE UNIQUE INDEX "point_system_code" ON "point" USING btree ("system","code");--> statement-breakpoint
CREATE UNIQUE INDEX "reading_conflict_key" ON "reading_conflict" USING btree ("stream","at","value");--> statement-breakpoint
CREATE INDEX "resident_system" ON "resident" USING btree ("system");--> statement-breakpoint
CREATE UNIQUE INDEX "stream_point_quantity_origin" ON "stream" USING btree ("point","quantity","origin");--> statement-breakpoint
CREATE INDEX "target_band_system" ON "target_band" USING btree ("system","quantity","valid_from");
--> statement-breakpoint
-- Written by hand from here: what the generator cannot express (and PARTITION BY above).
CREATE TABLE "reading_default" PARTITION OF "reading" DEFAULT;
--> statement-breakpoint
CREATE FUNCTION homewater_refuse_change() RETURNS trigger LANGUAGE plpgsql AS $$ BEGIN RAISE EXCEPTION '%', TG_ARGV[0] USING ERRCODE = 'integrity_constraint_violation'; END $$;
--> statement-breakpoint
CREATE TRIGGER "reading_no_update" BEFORE UPDATE ON "reading" FOR EACH ROW EXECUTE FUNCTION homewater_refuse_change('a reading as received never changes');
--> statement-breakpoint
CREATE TRIGGER "reading_no_delete" BEFORE DELETE ON "reading" FOR EACH ROW EXECUTE FUNCTION homewater_refuse_change('a reading as received never changes');
--> statement-breakpoint
CREATE TRIGGER "reading_conflict_no_update" BEFORE UPDATE ON "reading_conflict" FOR EACH ROW EXECUTE FUNCTION homewater_refuse_change('a reading as received never changes');
--> statement-breakpoint
CREATE TRIGGER "reading_conflict_no_delete" BEFORE DELETE ON "reading_conflict" FOR EACH ROW EXECUTE FUNCTION homewater_refuse_change('a reading as received never changes');
--> statement-breakpoint
CREATE TRIGGER "bench_test_no_update" BEFORE UPDATE ON "bench_test" FOR EACH ROW EXECUTE FUNCTION homewater_refuse_change('a bench test never changes: record a correction');
--> statement-breakpoint
CREATE TRIGGER "bench_test_no_delete" BEFORE DELETE ON "bench_test" FOR EACH ROW EXECUTE FUNCTION homewater_refuse_change('a bench test never changes: record a correction');
--> statement-breakpoint
CREATE TRIGGER "bench_result_no_update" BEFORE UPDATE ON "bench_result" FOR EACH ROW EXECUTE FUNCTION homewater_refuse_change('a result as typed never changes: record a correction');
--> statement-breakpoint
CREATE TRIGGER "bench_result_no_delete" BEFORE DELETE ON "bench_result" FOR EACH ROW EXECUTE FUNCTION homewater_refuse_change('a result as typed never changes: record a correction');
--> statement-breakpoint
CREATE TRIGGER "alarm_transition_no_update" BEFORE UPDATE ON "alarm_transition" FOR EACH ROW EXECUTE FUNCTION homewater_refuse_change('an alarm''s history never changes');
--> statement-breakpoint
CREATE TRIGGER "alarm_transition_no_delete" BEFORE DELETE ON "alarm_transition" FOR EACH ROW EXECUTE FUNCTION homewater_refuse_change('an alarm''s history never changes');
--> statement-breakpoint
CREATE TRIGGER "target_band_only_ends" BEFORE UPDATE ON "target_band" FOR EACH ROW WHEN (NEW."id" IS DISTINCT FROM OLD."id" OR NEW."system" IS DISTINCT FROM OLD."system" OR NEW."quantity" IS DISTINCT FROM OLD."quantity" OR NEW."point" IS DISTINCT FROM OLD."point" OR NEW."months" IS DISTINCT FROM OLD."months" OR NEW."valid_from" IS DISTINCT FROM OLD."valid_from" OR NEW."recorded_at" IS DISTINCT FROM OLD."recorded_at" OR NEW."set_by" IS DISTINCT FROM OLD."set_by" OR NEW."reason" IS DISTINCT FROM OLD."reason" OR NEW."source" IS DISTINCT FROM OLD."source") EXECUTE FUNCTION homewater_refuse_change('a target band never changes: end it and record a new one');
--> statement-breakpoint
CREATE TRIGGER "target_band_no_delete" BEFORE DELETE ON "target_band" FOR EACH ROW EXECUTE FUNCTION homewater_refuse_change('a target band never changes: end it and record a new one');
--> statement-breakpoint
CREATE TRIGGER "reading_no_truncate" BEFORE TRUNCATE ON "reading" FOR EACH STATEMENT EXECUTE FUNCTION homewater_refuse_change('a reading as received never changes');
--> statement-breakpoint
CREATE TRIGGER "reading_conflict_no_truncate" BEFORE TRUNCATE ON "reading_conflict" FOR EACH STATEMENT EXECUTE FUNCTION homewater_refuse_change('a reading as received never changes');
--> statement-breakpoint
CREATE TRIGGER "bench_test_no_truncate" BEFORE TRUNCATE ON "bench_test" FOR EACH STATEMENT EXECUTE FUNCTION homewater_refuse_change('a bench test never changes: record a correction');
--> statement-breakpoint
CREATE TRIGGER "bench_result_no_truncate" BEFORE TRUNCATE ON "bench_result" FOR EACH STATEMENT EXECUTE FUNCTION homewater_refuse_change('a result as typed never changes: record a correction');
--> statement-breakpoint
CREATE TRIGGER "alarm_transition_no_truncate" BEFORE TRUNCATE ON "alarm_transition" FOR EACH STATEMENT EXECUTE FUNCTION homewater_refuse_change('an alarm''s history never changes');
--> statement-breakpoint
CREATE TRIGGER "target_band_no_truncate" BEFORE TRUNCATE ON "target_band" FOR EACH STATEMENT EXECUTE FUNCTION homewater_refuse_change('a target band never changes: end it and record a new one');
--> statement-breakpoint
INSERT INTO "counter" ("name", "value") VALUES ('readings', 0), ('duplicates', 0), ('conflicts', 0), ('rejected', 0), ('unclaimed', 0), ('rejected_kinds', 0), ('unclaimed_topics', 0), ('commits', 0);
