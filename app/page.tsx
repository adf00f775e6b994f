import { redirect } from "next/navigation";

/** Systems is the first page until the pages by role exist. */
export default function Home() {
  redirect("/systems");
}
