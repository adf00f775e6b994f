import { Notice } from "./notice.tsx";
import { Top } from "./top.tsx";

/** Instead of a page that this reader may not see. */
export function NoPermission({ why }: { why: string }) {
  return (
    <>
      <Top here={null} />
      <Notice title="You do not have permission to see this page">
        <p>
          {why} An administrator can grant roles under Set-up, People. <a href="/sign-in">See your roles</a>
        </p>
      </Notice>
    </>
  );
}
