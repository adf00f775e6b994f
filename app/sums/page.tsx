import type { Metadata } from "next";
import { listSums } from "#services/sums/list-sums.ts";
import { NoPermission } from "../_components/frame/no-permission.tsx";
import { Top } from "../_components/frame/top.tsx";
import { pageAccess } from "../_server/page-access.ts";
import css from "./_parts/sums.module.css";

export const dynamic = "force-dynamic";
export const metadata: Metadata = { title: "Sums" };

export default async function SumsPage() {
  const access = await pageAccess();
  if (!access.may) return <NoPermission why={access.why} />;
  const { sums } = listSums();
  const groups = [...new Set(sums.map((sum) => sum.group))];
  return (
    <>
      <Top here="sums" />
      <main id="main" className={css.page}>
        <h1>Sums</h1>
        <p className={css.about}>Each shows its working and its cautions. Nothing you type here is stored.</p>
        {groups.map((group) => (
          <section key={group} aria-label={group}>
            <h2>{group}</h2>
            <ul className={css.list}>
              {sums
                .filter((sum) => sum.group === group)
                .map((sum) => (
                  <li key={sum.name}>
                    <a href={`/sums/${sum.name}`}>{sum.label}</a>
                    <p>{sum.about}</p>
                  </li>
                ))}
            </ul>
          </section>
        ))}
      </main>
    </>
  );
}
