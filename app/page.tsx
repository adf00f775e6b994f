import { redirect } from "next/navigation";
import type { Role } from "#core/people/index.ts";
import { NoPermission } from "./_components/frame/no-permission.tsx";
import { pageAccess } from "./_server/page-access.ts";

export const dynamic = "force-dynamic";

/** The first page of each role: what its holder comes for. Of several roles the first one here decides. */
const FIRST: readonly (readonly [Role, string])[] = [
  ["technician", "/overnight"],
  ["curator", "/home-water"],
  ["aquarist", "/bench"],
  ["administrator", "/set-up"],
];

export default async function Home() {
  const access = await pageAccess();
  if (!access.may) return <NoPermission why={access.why} />;
  const roles = new Set(access.actor.grants.map((grant) => grant.role));
  redirect(FIRST.find(([role]) => roles.has(role))?.[1] ?? "/systems");
}
