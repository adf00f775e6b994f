import { Waiting } from "../_components/waiting.tsx";

export default function Loading() {
  return (
    <Waiting here="home-water" title="Calendar">
      Reading what is dated in the month ...
    </Waiting>
  );
}
