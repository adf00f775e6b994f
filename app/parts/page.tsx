import type { Metadata } from "next";
import { NoPermission } from "../_components/no-permission.tsx";
import { PartsGallery } from "../_components/parts/parts-gallery.tsx";
import css from "../_components/set-up/set-up.module.css";
import { Top } from "../_components/top.tsx";
import { pageAccess } from "../page-access.ts";

export const dynamic = "force-dynamic";
export const metadata: Metadata = { title: "Parts" };

/** For who builds screens: what there is, in every state, to look at after a change. */
export default async function PartsPage() {
  const access = await pageAccess();
  if (!access.may) return <NoPermission why={access.why} />;
  return (
    <>
      <Top here="set-up" />
      <main id="main">
        <div className={css.page}>
          <p className={css.back}>
            <a href="/set-up">Set-up</a>
          </p>
          <h1 id="parts">Parts</h1>
          <p className={css.soft}>
            Every shared part in every state, with made-up numbers. The files are in app/_components.
          </p>
        </div>
        <PartsGallery />
      </main>
    </>
  );
}
