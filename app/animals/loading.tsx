import { Waiting } from "../_components/frame/waiting.tsx";

export default function Loading() {
  return (
    <Waiting here="home-water" title="The water of an animal">
      Counting the quarter hours of its life ...
    </Waiting>
  );
}
