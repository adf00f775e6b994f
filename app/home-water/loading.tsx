import { Waiting } from "../_components/frame/waiting.tsx";

export default function Loading() {
  return (
    <Waiting here="home-water" title="Home water">
      Counting a year of quarter hours ...
    </Waiting>
  );
}
