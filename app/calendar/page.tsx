import type { Metadata } from "next";
import { notFound } from "next/navigation";
import { calendarQuery } from "#contract/calendar.ts";
import { readCalendar } from "#services/calendar/read-calendar.ts";
import { AppError } from "#services/errors.ts";
import { NoPermission } from "../_components/frame/no-permission.tsx";
import { Top } from "../_components/frame/top.tsx";
import { pageAccess } from "../_server/page-access.ts";
import { CalendarPage } from "./_parts/calendar-page.tsx";

export const dynamic = "force-dynamic";
export const metadata: Metadata = { title: "Calendar" };

interface Address {
  readonly searchParams: Promise<Record<string, string | string[] | undefined>>;
}

export default async function Calendar({ searchParams }: Address) {
  const [access, search] = await Promise.all([pageAccess(), searchParams]);
  if (!access.may) return <NoPermission why={access.why} />;
  // Anything that is not a month shows this month; with no system chosen all are shown.
  const month = calendarQuery.shape.month.safeParse(search.month).data;
  const system = typeof search.system === "string" && search.system !== "" ? search.system : undefined;
  const asked = { ...(month === undefined ? {} : { month }), ...(system === undefined ? {} : { system }) };
  const view = await readCalendar(access.deps.read, asked).catch((failed: unknown) => {
    if (failed instanceof AppError && failed.code === "not_found") notFound();
    throw failed;
  });
  return (
    <>
      <Top here="home-water" />
      <CalendarPage view={view} />
    </>
  );
}
