import { DISPLAY_COOKIE, demandOwnPage } from "#app/_server/guard.ts";
import { route } from "#app/_server/route.ts";
import { withCookies } from "#app/_server/sign-in.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const POST = route("signOut", async ({ deps, request: { headers } }) => {
  demandOwnPage(headers, deps.guard.settings);
  const taken = await deps.auth.signOut(headers);
  return withCookies({ ok: true }, [
    ...taken,
    `${DISPLAY_COOKIE}=; Path=/; HttpOnly; SameSite=Lax; Max-Age=0`,
  ]);
});
