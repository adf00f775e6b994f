import { invitePerson, readPeople } from "../../../../lib/services/people.ts";
import { known, route } from "../../../_server/route.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const GET = route("people", ({ deps, actor }) => readPeople(deps.people, known(actor)));
export const POST = route("invite", ({ deps, actor, body }) => invitePerson(deps.people, known(actor), body));
