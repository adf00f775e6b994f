import type { Metadata } from "next";
import { clockOf } from "#core/time/zone-clock.ts";
import { readArrivals } from "#services/gateway/read-arrivals.ts";
import { readClocks } from "#services/gateway/read-clocks.ts";
import { readRejected } from "#services/gateway/read-rejected.ts";
import { readSystems } from "#services/systems/read-systems.ts";
import { NoPermission } from "../_components/frame/no-permission.tsx";
import { Top } from "../_components/frame/top.tsx";
import { pageAccess } from "../_server/page-access.ts";
import { Arrivals } from "./_parts/arrivals.tsx";
import { Clocks } from "./_parts/clocks.tsx";
import css from "./_parts/rejected.module.css";

export const dynamic = "force-dynamic";
export const metadata: Metadata = { title: "Rejected messages" };

const MOST = 500;

export default async function RejectedPage() {
  const access = await pageAccess();
  if (!access.may) return <NoPermission why={access.why} />;
  const { read } = access.deps;
  const [{ rejected }, view, arrivals, clocks] = await Promise.all([
    readRejected(read, MOST),
    readSystems(read),
    readArrivals(read, {}),
    readClocks(read, access.actor),
  ]);
  const clock = clockOf(view.zone);
  return (
    <>
      <Top here={null}>
        <p>
          {view.siteName} · <time dateTime={new Date(view.now).toISOString()}>{clock.full(view.now)}</time>
        </p>
      </Top>
      <main id="main" className={css.page}>
        <h1>Rejected messages</h1>
        <p className={css.about}>
          Messages that arrived but are not valid readings. No value from them is stored. Once the sender is
          corrected the count stops rising. <a href="/systems">All systems</a>
        </p>
        {rejected.length === 0 ? (
          <p>No message has been rejected.</p>
        ) : (
          // biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls must be reachable by keyboard (WCAG 2.2, 2.1.1)
          <section className={css.scroll} tabIndex={0} aria-label="Rejected messages, newest first">
            <table className={css.table}>
              <thead>
                <tr>
                  <th scope="col">Topic</th>
                  <th scope="col">Reason</th>
                  <th scope="col">Count</th>
                  <th scope="col">First seen</th>
                  <th scope="col">Last seen</th>
                  <th scope="col">Sample, as received</th>
                </tr>
              </thead>
              <tbody>
                {rejected.map((row) => (
                  <tr key={`${row.source} ${row.topic} ${row.reason}`}>
                    <td className={css.code}>{row.topic}</td>
                    <td>{row.reason}</td>
                    <td className={css.count}>{row.count}</td>
                    <td>{clock.full(row.firstSeen)}</td>
                    <td>{clock.full(row.lastSeen)}</td>
                    <td className={css.code}>
                      {row.sample === "" ? "(empty)" : row.sample.slice(0, 120)}
                      {row.bytes > 120 && <small> ... {row.bytes} bytes</small>}
                    </td>
                  </tr>
                ))}
              </tbody>
            </table>
          </section>
        )}
        <Clocks view={clocks} />
        <Arrivals arrivals={arrivals} clock={clock} />
      </main>
    </>
  );
}
