import { Waiting } from "../../_components/waiting.tsx";

export default function Loading() {
  return (
    <Waiting here="bench" title="Bench">
      Loading the systems ...
    </Waiting>
  );
}
