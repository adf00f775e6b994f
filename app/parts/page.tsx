import type { Metadata } from "next";
import css from "../_components/controls/forms.module.css";
import { NoPermission } from "../_components/frame/no-permission.tsx";
import { Top } from "../_components/frame/top.tsx";
import { pageAccess } from "../_server/page-access.ts";
import { PartsGallery } from "./_parts/parts-gallery.tsx";

export const dynamic = "force-dynamic";
export const metadata: Metadata = { title: "Parts" };

/** For people who build screens: what there is, in every state, to look at after a change. */
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
            Every shared part in every state, with made-up numbers. Shared files are in app/_components, those
            of one page in its _parts.
          </p>
        </div>
        <PartsGallery />
      </main>
    </>
  );
}
