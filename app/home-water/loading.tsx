import { Notice } from "../_components/notice.tsx";
import { Top } from "../_components/top.tsx";

export default function Loading() {
  return (
    <>
      <Top here="home-water" />
      <Notice title="Home water" busy>
        <p role="status">Counting a year of quarter hours ...</p>
      </Notice>
    </>
  );
}
