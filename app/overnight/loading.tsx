import { Notice } from "../_components/notice.tsx";
import { Top } from "../_components/top.tsx";

export default function Loading() {
  return (
    <>
      <Top here="overnight" />
      <Notice title="Overnight" busy>
        <p role="status">Reading what moved since the last handover ...</p>
      </Notice>
    </>
  );
}
