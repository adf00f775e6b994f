CREATE TABLE "acknowledgement" (
	"id" text PRIMARY KEY NOT NULL,
	"client_id" text NOT NULL,
	"alarm" text NOT NULL,
	"by_name" text NOT NULL,
	"by_id" text NOT NULL,
	"note" text,
	"at" bigint NOT NULL,
	"received" bigint NOT NULL,
	CONSTRAINT "acknowledgement_client_id_unique" UNIQUE("client_id")
);
--> statement-breakpoint
CREATE TABLE "api_token" (
	"id" text PRIMARY KEY NOT NULL,
	"name" text NOT NULL,
	"hash" text NOT NULL,
	"role" text NOT NULL,
	"site" text,
	"system" text,
	"made_by" text NOT NULL,
	"made" bigint NOT NULL,
	"expires" bigint NOT NULL,
	"revoked" bigint,
	CONSTRAINT "api_token_hash_unique" UNIQUE("hash")
);
--> statement-breakpoint
CREATE TABLE "attempt" (
	"key" text PRIMARY KEY NOT NULL,
	"count" integer NOT NULL,
	"since" bigint NOT NULL
);
--> statement-breakpoint
CREATE TABLE "audit" (
	"seq" bigint PRIMARY KEY NOT NULL,
	"at" bigint NOT NULL,
	"actor" text NOT NULL,
	"actor_id" text NOT NULL,
	"verb" text NOT NULL,
	"subject" text NOT NULL,
	"record" text NOT NULL,
	"before" text NOT NULL,
	"hash" text NOT NULL
);
--> statement-breakpoint
CREATE TABLE "audit_head" (
	"name" text PRIMARY KEY NOT NULL,
	"seq" bigint NOT NULL,
	"hash" text NOT NULL
);
--> statement-breakpoint
CREATE TABLE "bench_void" (
	"result" text PRIMARY KEY NOT NULL,
	"id" text NOT NULL,
	"client_id" text NOT NULL,
	"by_name" text NOT NULL,
	"by_id" text NOT NULL,
	"reason" text NOT NULL,
	"at" bigint NOT NULL,
	"received" bigint NOT NULL,
	CONSTRAINT "bench_void_id_unique" UNIQUE("id"),
	CONSTRAINT "bench_void_client_id_unique" UNIQUE("client_id")
);
--> statement-breakpoint
CREATE TABLE "credential" (
	"id" text PRIMARY KEY NOT NULL,
	"account" text NOT NULL,
	"provider" text NOT NULL,
	"person" text NOT NULL,
	"password" text,
	"created_at" bigint NOT NULL,
	"updated_at" bigint NOT NULL
);
--> statement-breakpoint
CREATE TABLE "handover" (
	"id" text PRIMARY KEY NOT NULL,
	"client_id" text NOT NULL,
	"from_at" bigint NOT NULL,
	"to_at" bigint NOT NULL,
	"signed" bigint NOT NULL,
	"signed_by" text NOT NULL,
	"signed_by_id" text NOT NULL,
	"passes_to" text,
	"unanswered" integer NOT NULL,
	"note" text NOT NULL,
	"copy" text NOT NULL,
	"hash" text NOT NULL,
	CONSTRAINT "handover_client_id_unique" UNIQUE("client_id")
);
--> statement-breakpoint
CREATE TABLE "log_entry" (
	"id" text PRIMARY KEY NOT NULL,
	"root" text NOT NULL,
	"client_id" text NOT NULL,
	"change" text NOT NULL,
	"supersedes" text,
	"reason" text,
	"kind" text NOT NULL,
	"point" text,
	"quantity" text,
	"at" bigint NOT NULL,
	"until_at" bigint,
	"open" boolean NOT NULL,
	"expected" bigint,
	"amount" double precision,
	"unit" text,
	"item" text,
	"animals" text NOT NULL,
	"text" text NOT NULL,
	"alarm" text,
	"by_name" text NOT NULL,
	"by_id" text NOT NULL,
	"entered" bigint NOT NULL,
	"received" bigint NOT NULL,
	CONSTRAINT "log_entry_client_id_unique" UNIQUE("client_id"),
	CONSTRAINT "log_entry_amount_finite" CHECK ("log_entry"."amount" > '-Infinity'::float8 and "log_entry"."amount" < 'Infinity'::float8)
);
--> statement-breakpoint
CREATE TABLE "log_entry_system" (
	"entry" text NOT NULL,
	"system" text NOT NULL,
	"place" integer NOT NULL,
	CONSTRAINT "log_entry_system_entry_system_pk" PRIMARY KEY("entry","system")
);
--> statement-breakpoint
CREATE TABLE "person" (
	"id" text PRIMARY KEY NOT NULL,
	"user_name" text NOT NULL,
	"name" text NOT NULL,
	"email" text NOT NULL,
	"email_verified" boolean NOT NULL,
	"image" text,
	"disabled" boolean NOT NULL,
	"must_change" boolean NOT NULL,
	"one_time_until" bigint,
	"created_at" bigint NOT NULL,
	"updated_at" bigint NOT NULL,
	"last_sign_in" bigint,
	CONSTRAINT "person_user_name_unique" UNIQUE("user_name"),
	CONSTRAINT "person_email_unique" UNIQUE("email")
);
--> statement-breakpoint
CREATE TABLE "role_grant" (
	"number" bigint PRIMARY KEY GENERATED ALWAYS AS IDENTITY (sequence name "role_grant_number_seq" INCREMENT BY 1 MINVALUE 1 MAXVALUE 9223372036854775807 START WITH 1 CACHE 1),
	"person" text NOT NULL,
	"role" text NOT NULL,
	"site" text,
	"system" text
);
--> statement-breakpoint
CREATE TABLE "session" (
	"id" text PRIMARY KEY NOT NULL,
	"token" text NOT NULL,
	"person" text NOT NULL,
	"expires_at" bigint NOT NULL,
	"created_at" bigint NOT NULL,
	"updated_at" bigint NOT NULL,
	"address" text,
	"user_agent" text,
	CONSTRAINT "session_token_unique" UNIQUE("token")
);
--> statement-breakpoint
ALTER TABLE "credential" ADD CONSTRAINT "credential_person_person_id_fk" FOREIGN KEY ("person") REFERENCES "public"."person"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "log_entry_system" ADD CONSTRAINT "log_entry_system_entry_log_entry_id_fk" FOREIGN KEY ("entry") REFERENCES "public"."log_entry"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "role_grant" ADD CONSTRAINT "role_grant_person_person_id_fk" FOREIGN KEY ("person") REFERENCES "public"."person"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "session" ADD CONSTRAINT "session_person_person_id_fk" FOREIGN KEY ("person") REFERENCES "public"."person"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
CREATE INDEX "acknowledgement_alarm" ON "acknowledgement" USING btree ("alarm");--> statement-breakpoint
CREATE INDEX "audit_subject" ON "audit" USING btree ("subject");--> statement-breakpoint
CREATE UNIQUE INDEX "credential_person_provider" ON "credential" USING btree ("person","provider");--> statement-breakpoint
CREATE INDEX "handover_signed" ON "handover" USING btree ("signed");--> statement-breakpoint
CREATE INDEX "log_entry_root" ON "log_entry" USING btree ("root");--> statement-breakpoint
CREATE INDEX "log_entry_at" ON "log_entry" USING btree ("at");--> statement-breakpoint
CREATE INDEX "log_entry_alarm" ON "log_entry" USING btree ("alarm");--> statement-breakpoint
CREATE UNIQUE INDEX "log_entry_supersedes" ON "log_entry" USING btree ("supersedes");--> statement-breakpoint
CREATE INDEX "log_entry_system_system" ON "log_entry_system" USING btree ("system");--> statement-breakpoint
CREATE INDEX "role_grant_person" ON "role_grant" USING btree ("person");--> statement-breakpoint
CREATE INDEX "session_person" ON "session" USING btree ("person");
--> statement-breakpoint
-- Written by hand from here: what the generator cannot express.
CREATE TRIGGER "audit_no_update" BEFORE UPDATE ON "audit" FOR EACH ROW EXECUTE FUNCTION homewater_refuse_change('the audit trail never changes');
--> statement-breakpoint
CREATE TRIGGER "audit_no_delete" BEFORE DELETE ON "audit" FOR EACH ROW EXECUTE FUNCTION homewater_refuse_change('the audit trail never changes');
--> statement-breakpoint
CREATE TRIGGER "acknowledgement_no_update" BEFORE UPDATE ON "acknowledgement" FOR EACH ROW EXECUTE FUNCTION homewater_refuse_change('an acknowledgement never changes');
--> statement-breakpoint
CREATE TRIGGER "acknowledgement_no_delete" BEFORE DELETE ON "acknowledgement" FOR EACH ROW EXECUTE FUNCTION homewater_refuse_change('an acknowledgement never changes');
--> statement-breakpoint
CREATE TRIGGER "bench_void_no_update" BEFORE UPDATE ON "bench_void" FOR EACH ROW EXECUTE FUNCTION homewater_refuse_change('a void never changes');
--> statement-breakpoint
CREATE TRIGGER "bench_void_no_delete" BEFORE DELETE ON "bench_void" FOR EACH ROW EXECUTE FUNCTION homewater_refuse_change('a void never changes');
--> statement-breakpoint
CREATE TRIGGER "log_entry_no_update" BEFORE UPDATE ON "log_entry" FOR EACH ROW EXECUTE FUNCTION homewater_refuse_change('a log entry as written never changes: record a correction');
--> statement-breakpoint
CREATE TRIGGER "log_entry_no_delete" BEFORE DELETE ON "log_entry" FOR EACH ROW EXECUTE FUNCTION homewater_refuse_change('a log entry as written never changes: record a correction');
--> statement-breakpoint
CREATE TRIGGER "log_entry_system_no_update" BEFORE UPDATE ON "log_entry_system" FOR EACH ROW EXECUTE FUNCTION homewater_refuse_change('a log entry as written never changes: record a correction');
--> statement-breakpoint
CREATE TRIGGER "log_entry_system_no_delete" BEFORE DELETE ON "log_entry_system" FOR EACH ROW EXECUTE FUNCTION homewater_refuse_change('a log entry as written never changes: record a correction');
--> statement-breakpoint
CREATE TRIGGER "handover_no_update" BEFORE UPDATE ON "handover" FOR EACH ROW EXECUTE FUNCTION homewater_refuse_change('a signed handover never changes');
--> statement-breakpoint
CREATE TRIGGER "handover_no_delete" BEFORE DELETE ON "handover" FOR EACH ROW EXECUTE FUNCTION homewater_refuse_change('a signed handover never changes');
--> statement-breakpoint
CREATE TRIGGER "audit_no_truncate" BEFORE TRUNCATE ON "audit" FOR EACH STATEMENT EXECUTE FUNCTION homewater_refuse_change('the audit trail never changes');
--> statement-breakpoint
CREATE TRIGGER "acknowledgement_no_truncate" BEFORE TRUNCATE ON "acknowledgement" FOR EACH STATEMENT EXECUTE FUNCTION homewater_refuse_change('an acknowledgement never changes');
--> statement-breakpoint
CREATE TRIGGER "bench_void_no_truncate" BEFORE TRUNCATE ON "bench_void" FOR EACH STATEMENT EXECUTE FUNCTION homewater_refuse_change('a void never changes');
--> statement-breakpoint
CREATE TRIGGER "log_entry_no_truncate" BEFORE TRUNCATE ON "log_entry" FOR EACH STATEMENT EXECUTE FUNCTION homewater_refuse_change('a log entry as written never changes: record a correction');
--> statement-breakpoint
CREATE TRIGGER "log_entry_system_no_truncate" BEFORE TRUNCATE ON "log_entry_system" FOR EACH STATEMENT EXECUTE FUNCTION homewater_refuse_change('a log entry as written never changes: record a correction');
--> statement-breakpoint
CREATE TRIGGER "handover_no_truncate" BEFORE TRUNCATE ON "handover" FOR EACH STATEMENT EXECUTE FUNCTION homewater_refuse_change('a signed handover never changes');
--> statement-breakpoint
INSERT INTO "audit_head" ("name", "seq", "hash") VALUES ('head', 0, '');
--> statement-breakpoint
INSERT INTO "counter" ("name", "value") VALUES ('people', 0);
