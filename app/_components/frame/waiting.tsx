import type { ReactNode } from "react";
import { Notice } from "./notice.tsx";
import { Top } from "./top.tsx";

/** What a page shows while it is read: its place in the bar, its title, and what is being done. */
export function Waiting({
  here,
  title,
  children,
}: {
  readonly here: Parameters<typeof Top>[0]["here"];
  readonly title: string;
  readonly children: ReactNode;
}) {
  return (
    <>
      <Top here={here} />
      <Notice title={title} busy>
        <p role="status">{children}</p>
      </Notice>
    </>
  );
}
