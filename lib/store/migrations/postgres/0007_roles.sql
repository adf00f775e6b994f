ALTER TABLE "point" ADD COLUMN "role" text DEFAULT 'other' NOT NULL;--> statement-breakpoint
ALTER TABLE "point" ADD COLUMN "role_guessed" boolean DEFAULT true NOT NULL;--> statement-breakpoint
ALTER TABLE "system" ADD COLUMN "type" text DEFAULT 'exhibit' NOT NULL;--> statement-breakpoint
ALTER TABLE "system" ADD COLUMN "starting_bands" text;
--> statement-breakpoint
-- Written by hand from here: what was read from names and words until now is stored once, so that stored sites go on as they were.
-- A name with "contact" was a contact chamber to incidents, and one with "make-up" no water of the system; the rest had no rule but shows in set-up.
UPDATE "point" SET "role" = CASE
	WHEN "code" LIKE '%contact%' THEN 'contact-chamber'
	WHEN "code" LIKE '%make-up%' THEN 'make-up'
	WHEN "code" LIKE '%sump%' THEN 'sump'
	WHEN "code" LIKE '%filter%' THEN 'filter'
	WHEN "code" = 'plant-room' THEN 'plant-room'
	WHEN "code" LIKE 'pump-%' OR "code" LIKE 'float-%' OR "code" LIKE '%-valve' THEN 'equipment'
	WHEN "code" = 'display' OR "code" LIKE 'display-%' THEN 'exhibit'
	ELSE 'other'
END;
--> statement-breakpoint
UPDATE "system" SET "type" = 'quarantine' WHERE (' ' || lower("kind") || ' ') ~ '[^a-z0-9_]quarantine[^a-z0-9_]';
--> statement-breakpoint
UPDATE "system" SET "starting_bands" = CASE
	WHEN (' ' || lower("kind") || ' ') ~ '[^a-z0-9_]tropical marine[^a-z0-9_]' THEN 'tropical marine'
	WHEN (' ' || lower("kind") || ' ') ~ '[^a-z0-9_]temperate marine[^a-z0-9_]' THEN 'temperate marine'
	WHEN (' ' || lower("kind") || ' ') ~ '[^a-z0-9_]coral reef[^a-z0-9_]' THEN 'coral reef'
	WHEN (' ' || lower("kind") || ' ') ~ '[^a-z0-9_]soft acid fresh[^a-z0-9_]' THEN 'soft acid fresh'
	WHEN (' ' || lower("kind") || ' ') ~ '[^a-z0-9_]hard alkaline fresh[^a-z0-9_]' THEN 'hard alkaline fresh'
	WHEN (' ' || lower("kind") || ' ') ~ '[^a-z0-9_]temperate fresh[^a-z0-9_]' THEN 'temperate fresh'
	WHEN (' ' || lower("kind") || ' ') ~ '[^a-z0-9_]brackish mangrove[^a-z0-9_]' THEN 'brackish mangrove'
	WHEN (' ' || lower("kind") || ' ') ~ '[^a-z0-9_]octopus[^a-z0-9_]' THEN 'octopus'
	WHEN (' ' || lower("kind") || ' ') ~ '[^a-z0-9_]jelly[^a-z0-9_]' THEN 'jelly'
END;
