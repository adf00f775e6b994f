import type { Metadata } from "next";
import { NoPermission } from "#app/_components/frame/no-permission.tsx";
import { pageAccess } from "#app/_server/page-access.ts";
import { mayAnywhere } from "#core/people/index.ts";
import { readSystems } from "#services/systems/read-systems.ts";
import { BenchChoose } from "../_parts/bench-choose.tsx";

export const dynamic = "force-dynamic";
export const metadata: Metadata = { title: "Bench" };

export default async function BenchPage() {
  const access = await pageAccess();
  if (!access.may) return <NoPermission why={access.why} />;
  const { deps, actor } = access;
  if (!mayAnywhere(actor.grants, "record-bench"))
    return <NoPermission why="You can see bench results on the page of each system, but not record them." />;
  const view = await readSystems(deps.read);
  const choices = view.systems.map(({ system, name, kind, standing }) => ({ system, name, kind, standing }));
  return <BenchChoose choices={choices} user={actor.id} />;
}
