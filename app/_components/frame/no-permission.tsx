import { Notice } from "./notice.tsx";
import { Top } from "./top.tsx";

/** Instead of a page that this reader may not see. */
export function NoPermission({ why }: { why: string }) {
  return (
    <>
      <Top here={null} />
      <Notice title="You may not see this page">
        <p>
          {why} An administrator grants roles under Set-up, People.{" "}
          <a href="/sign-in">Who you are signed in as</a>
        </p>
      </Notice>
    </>
  );
}
