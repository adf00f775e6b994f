import { Notice } from "../../_components/notice.tsx";
import { Top } from "../../_components/top.tsx";

export default function Loading() {
  return (
    <>
      <Top here="bench" />
      <Notice title="Bench" busy>
        <p role="status">Reading which systems there are ...</p>
      </Notice>
    </>
  );
}
