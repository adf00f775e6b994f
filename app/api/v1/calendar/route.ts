import { readCalendar } from "../../../../lib/services/read-calendar.ts";
import { route } from "../../../_server/route.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const GET = route("calendar", ({ deps, query }) => readCalendar(deps.read, query));
