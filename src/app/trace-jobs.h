/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The long work of tracing, done beside the window: one thing at a time on a thread, with its progress, left off when it is
 * not wanted any more or she will not wait. */
#pragma once

#include <gtk/gtk.h>

#include "app/tracing.h"

#define APP_TYPE_TRACE_JOBS (app_trace_jobs_get_type ())
G_DECLARE_FINAL_TYPE (AppTraceJobs, app_trace_jobs, APP, TRACE_JOBS, GObject)

/* Follows the session's tracing for as long as it lives. Signal "changed": work has begun, come further, or
 * ended. */
AppTraceJobs *app_trace_jobs_new (AppSession *session);
/* What is being done, in words; NULL for nothing. share: 0..1; below 0 not known. */
const char *app_trace_jobs_get_words (AppTraceJobs *jobs, double *share);
/* She will not wait. */
void app_trace_jobs_cancel (AppTraceJobs *jobs);
/* Leaves off what is under way, for the window is going. */
void app_trace_jobs_stop (AppTraceJobs *jobs);
