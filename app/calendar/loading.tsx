import { Waiting } from "../_components/frame/waiting.tsx";

export default function Loading() {
  return (
    <Waiting here="home-water" title="Calendar">
      Reading what is dated in the month ...
    </Waiting>
  );
}
