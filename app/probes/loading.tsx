import { Waiting } from "../_components/waiting.tsx";

export default function Loading() {
  return (
    <Waiting here="probes" title="Probes">
      Loading the probes ...
    </Waiting>
  );
}
