import { Notice } from "./notice.tsx";
import { Top } from "./top.tsx";

/** Instead of a page that this reader may not see. */
export function NoPermission({ why }: { why: string }) {
  return (
    <>
      <Top here={null} />
      <Notice title="You may not see this page from here">
        <p>
          Until people can log in, pages are shown only on the machine that Homewater runs on, or to a request
          that carries the token. {why}
        </p>
      </Notice>
    </>
  );
}
