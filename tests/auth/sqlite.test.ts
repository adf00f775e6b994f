import { sqliteSubject } from "../store/subjects.ts";
import { describeAuth } from "./contract.ts";

describeAuth("signing in over SQLite", sqliteSubject);
