import { known, route } from "#app/_server/route.ts";
import { invitePerson, readPeople } from "#services/people/people.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const GET = route("people", ({ deps, actor }) => readPeople(deps.people, known(actor)));
export const POST = route("invite", ({ deps, actor, body }) => invitePerson(deps.people, known(actor), body));
