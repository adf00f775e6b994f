CREATE TABLE "band_basis" (
	"band" text PRIMARY KEY NOT NULL,
	"basis" text NOT NULL
);
--> statement-breakpoint
CREATE TABLE "breeding_event" (
	"id" text PRIMARY KEY NOT NULL,
	"watch" text,
	"system" text NOT NULL,
	"animal" text,
	"kind" text NOT NULL,
	"at" bigint NOT NULL,
	"data" text NOT NULL,
	"by_name" text NOT NULL,
	"recorded_at" bigint NOT NULL,
	"supersedes" text
);
--> statement-breakpoint
CREATE TABLE "breeding_watch" (
	"id" text PRIMARY KEY NOT NULL,
	"system" text NOT NULL,
	"animal" text NOT NULL,
	"species" text NOT NULL,
	"kind" text NOT NULL,
	"first_at" bigint,
	"last_at" bigint,
	"may_delay" boolean NOT NULL,
	"shortest_days" double precision NOT NULL,
	"longest_days" double precision NOT NULL,
	"source" text NOT NULL,
	"narrowed" text,
	"opened_at" bigint NOT NULL,
	"opened_by" text NOT NULL,
	"outcome" text,
	"ended_at" bigint
);
--> statement-breakpoint
CREATE TABLE "compromise" (
	"id" text PRIMARY KEY NOT NULL,
	"system" text NOT NULL,
	"quantity" text NOT NULL,
	"months" text NOT NULL,
	"low_species" text NOT NULL,
	"low_stage" text NOT NULL,
	"high_species" text NOT NULL,
	"high_stage" text NOT NULL,
	"low" double precision NOT NULL,
	"high" double precision NOT NULL,
	"action_low" double precision,
	"action_high" double precision,
	"reason" text NOT NULL,
	"signed_by" text NOT NULL,
	"signed_at" bigint NOT NULL,
	"valid_from" bigint NOT NULL,
	"valid_to" bigint
);
--> statement-breakpoint
CREATE TABLE "home_water_series" (
	"id" text PRIMARY KEY NOT NULL,
	"name" text NOT NULL,
	"latitude" double precision NOT NULL,
	"longitude" double precision NOT NULL,
	"quantity" text NOT NULL,
	"months" text NOT NULL,
	"source" text NOT NULL,
	"recorded_at" bigint NOT NULL,
	"recorded_by" text NOT NULL,
	"reason" text NOT NULL,
	"withdrawn_at" bigint
);
--> statement-breakpoint
CREATE TABLE "light_plan" (
	"id" text PRIMARY KEY NOT NULL,
	"system" text NOT NULL,
	"hours" text NOT NULL,
	"middle" text NOT NULL,
	"latitude" double precision,
	"shift_days" double precision NOT NULL,
	"valid_from" bigint NOT NULL,
	"valid_to" bigint,
	"set_by" text NOT NULL,
	"recorded_at" bigint NOT NULL,
	"reason" text NOT NULL,
	"source" text NOT NULL
);
--> statement-breakpoint
CREATE TABLE "profile" (
	"id" text PRIMARY KEY NOT NULL,
	"species" text NOT NULL,
	"population" text,
	"version" integer NOT NULL,
	"latitude" double precision,
	"longitude" double precision,
	"recorded_at" bigint NOT NULL,
	"recorded_by" text NOT NULL,
	"reason" text NOT NULL
);
--> statement-breakpoint
CREATE TABLE "profile_entry" (
	"profile" text NOT NULL,
	"place" integer NOT NULL,
	"quantity" text NOT NULL,
	"stage" text,
	"month" integer,
	"low" double precision,
	"typical" double precision,
	"high" double precision,
	"means" text NOT NULL,
	"kind" text NOT NULL,
	"depth" text,
	"where_at" text,
	"years" text,
	"source" text NOT NULL,
	"mark" text NOT NULL,
	"method" text,
	"confidence" text NOT NULL,
	"note" text,
	CONSTRAINT "profile_entry_profile_place_pk" PRIMARY KEY("profile","place")
);
--> statement-breakpoint
CREATE TABLE "season_plan" (
	"id" text PRIMARY KEY NOT NULL,
	"system" text NOT NULL,
	"quantity" text NOT NULL,
	"set_points" text NOT NULL,
	"valid_from" bigint NOT NULL,
	"valid_to" bigint,
	"adopted_by" text NOT NULL,
	"adopted_at" bigint NOT NULL,
	"reason" text NOT NULL,
	"source" text NOT NULL
);
--> statement-breakpoint
ALTER TABLE "resident" ADD COLUMN "animal" text;--> statement-breakpoint
ALTER TABLE "resident" ADD COLUMN "population" text;--> statement-breakpoint
ALTER TABLE "resident" ADD COLUMN "sex" text;--> statement-breakpoint
ALTER TABLE "resident" ADD COLUMN "ended" text;--> statement-breakpoint
ALTER TABLE "species" ADD COLUMN "scientific" text;--> statement-breakpoint
ALTER TABLE "species" ADD COLUMN "group_name" text;--> statement-breakpoint
ALTER TABLE "species" ADD COLUMN "development" text;--> statement-breakpoint
ALTER TABLE "species" ADD COLUMN "may_delay" boolean;--> statement-breakpoint
ALTER TABLE "species" ADD COLUMN "delay_source" text;--> statement-breakpoint
ALTER TABLE "species" ADD COLUMN "facts" text;--> statement-breakpoint
ALTER TABLE "target_band" ADD COLUMN "origin" text;--> statement-breakpoint
ALTER TABLE "target_band" ADD COLUMN "confirmed_by" text;--> statement-breakpoint
ALTER TABLE "profile_entry" ADD CONSTRAINT "profile_entry_profile_profile_id_fk" FOREIGN KEY ("profile") REFERENCES "public"."profile"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
CREATE INDEX "breeding_event_system" ON "breeding_event" USING btree ("system","at");--> statement-breakpoint
CREATE INDEX "breeding_watch_system" ON "breeding_watch" USING btree ("system");--> statement-breakpoint
CREATE INDEX "compromise_system" ON "compromise" USING btree ("system","quantity");--> statement-breakpoint
CREATE INDEX "light_plan_system" ON "light_plan" USING btree ("system");--> statement-breakpoint
CREATE INDEX "profile_species" ON "profile" USING btree ("species","population","version");--> statement-breakpoint
CREATE INDEX "season_plan_system" ON "season_plan" USING btree ("system","quantity");--> statement-breakpoint
CREATE INDEX "resident_animal" ON "resident" USING btree ("animal");