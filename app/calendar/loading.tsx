import { Waiting } from "../_components/frame/waiting.tsx";

export default function Loading() {
  return (
    <Waiting here="home-water" title="Calendar">
      Loading the month ...
    </Waiting>
  );
}
