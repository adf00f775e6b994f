import { Notice } from "../_components/notice.tsx";
import { Top } from "../_components/top.tsx";

export default function Loading() {
  return (
    <>
      <Top here="set-up" />
      <Notice title="Set-up" busy>
        <p role="status">Reading what is set up ...</p>
      </Notice>
    </>
  );
}
