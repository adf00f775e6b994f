import type { DemoConnection } from "./connection.ts";

/** One line for the person at the terminal. */
export function say(text: string): void {
  process.stdout.write(`homewater: ${text}\n`);
}

const EVERY_MS = 2_000;

/** Says a share in percent, at most every two seconds and never the same twice. */
export function showProgress(what: string): (share: number) => void {
  let saidAt = performance.now();
  let said = 0;
  return (share) => {
    const percent = Math.min(100, Math.floor(share * 100));
    const now = performance.now();
    if (percent === said || (now - saidAt < EVERY_MS && percent < 100)) return;
    said = percent;
    saidAt = now;
    say(`${what}: ${percent} %`);
  };
}

/** Where to look and what to try next. */
export function sayReady(connection: DemoConnection, data: string): void {
  const broker = new URL(connection.mqttUrl);
  const topic = "homewater/pennacombe/kelp-gallery/display/temperature";
  say(`ready at ${connection.httpUrl}

  Open        ${connection.httpUrl}
  Sign in as  ${Object.entries(connection.people)
    .map(([name, password]) => `${name.padEnd(14)} password ${password}`)
    .join("\n              ")}
  API token   ${connection.token}
  Broker      ${connection.mqttUrl}   user ${connection.user}   password ${connection.password}
  Data        ${data}

  Send a reading of your own and watch it arrive:
    mosquitto_pub -h ${broker.hostname} -p ${broker.port} -u ${connection.user} -P '${connection.password}' -q 1 \\
      -t ${topic} -m 16.4

  Ctrl-C stops everything; \`npm run demo\` continues from there. Pennacombe Aquarium is invented.
`);
}
