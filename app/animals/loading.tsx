import { Notice } from "../_components/notice.tsx";
import { Top } from "../_components/top.tsx";

export default function Loading() {
  return (
    <>
      <Top here="home-water" />
      <Notice title="The water of an animal" busy>
        <p role="status">Counting the quarter hours of its life ...</p>
      </Notice>
    </>
  );
}
