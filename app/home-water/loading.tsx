import { Waiting } from "../_components/frame/waiting.tsx";

export default function Loading() {
  return (
    <Waiting here="home-water" title="Home water">
      Loading a year of readings ...
    </Waiting>
  );
}
