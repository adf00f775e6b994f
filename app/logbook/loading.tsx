import { Notice } from "../_components/notice.tsx";
import { Top } from "../_components/top.tsx";

export default function Loading() {
  return (
    <>
      <Top here="logbook" />
      <Notice title="Logbook" busy>
        <p role="status">Reading what people did ...</p>
      </Notice>
    </>
  );
}
