import { Waiting } from "../_components/frame/waiting.tsx";

export default function Loading() {
  return (
    <Waiting here="probes" title="Probes">
      Loading the probes ...
    </Waiting>
  );
}
