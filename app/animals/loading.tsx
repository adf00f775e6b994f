import { Waiting } from "../_components/frame/waiting.tsx";

export default function Loading() {
  return (
    <Waiting here="home-water" title="Water history of an animal">
      Loading its water history ...
    </Waiting>
  );
}
