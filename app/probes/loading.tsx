import { Notice } from "../_components/notice.tsx";
import { Top } from "../_components/top.tsx";

export default function Loading() {
  return (
    <>
      <Top here="probes" />
      <Notice title="Probes" busy>
        <p role="status">Reading the probes ...</p>
      </Notice>
    </>
  );
}
