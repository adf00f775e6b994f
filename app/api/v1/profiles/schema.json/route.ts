import { route } from "../../../../../app/_server/route.ts";
import { profileSchema } from "../../../../../lib/services/profile-files.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const GET = route("profileSchema", async () => profileSchema());
