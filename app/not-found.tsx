import type { Metadata } from "next";
import { Notice } from "./_components/frame/notice.tsx";
import { Top } from "./_components/frame/top.tsx";

export const metadata: Metadata = { title: "Not found" };

export default function NotFound() {
  return (
    <>
      <Top here={null} />
      <Notice title="There is nothing at this address">
        <p>
          The address may be mistyped, or the short name of the system may have changed.{" "}
          <a href="/systems">All systems</a>
        </p>
      </Notice>
    </>
  );
}
