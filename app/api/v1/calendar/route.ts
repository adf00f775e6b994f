import { route } from "#app/_server/route.ts";
import { readCalendar } from "#services/calendar/read-calendar.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const GET = route("calendar", ({ deps, query }) => readCalendar(deps.read, query));
