import type { Metadata } from "next";
import { notFound } from "next/navigation";
import { NoPermission } from "#app/_components/frame/no-permission.tsx";
import { Top } from "#app/_components/frame/top.tsx";
import { pageAccess } from "#app/_server/page-access.ts";
import { listSums } from "#services/sums/list-sums.ts";
import { SumForm } from "../_parts/sum-form.tsx";
import css from "../_parts/sums.module.css";

export const dynamic = "force-dynamic";

interface Address {
  readonly params: Promise<{ name: string }>;
}

const sumOf = async ({ params }: Address) => {
  const { name } = await params;
  return listSums().sums.find((sum) => sum.name === name);
};

export async function generateMetadata(address: Address): Promise<Metadata> {
  return { title: (await sumOf(address))?.label ?? "Sums" };
}

export default async function SumPage(address: Address) {
  const access = await pageAccess();
  if (!access.may) return <NoPermission why={access.why} />;
  const sum = await sumOf(address);
  if (sum === undefined) notFound();
  return (
    <>
      <Top here="sums" />
      <main id="main" className={css.page}>
        <p className={css.back}>
          <a href="/sums">All sums</a>
        </p>
        <h1>{sum.label}</h1>
        <p className={css.about}>{sum.about}</p>
        <SumForm name={sum.name} />
      </main>
    </>
  );
}
