import { Notice } from "../../_components/notice.tsx";
import { Top } from "../../_components/top.tsx";

export default function Loading() {
  return (
    <>
      <Top here="systems" />
      <Notice title="Systems" busy>
        <p role="status">Reading the newest state of every system ...</p>
      </Notice>
    </>
  );
}
