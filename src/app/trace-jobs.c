/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/trace-jobs.h"

/* Outlines are followed once a slider rests this long; progress is told this often. */
#define REST_MS 180
#define TELL_MS 60

/* What is under way on the thread. */
typedef struct
{
  AppTracingWork *work; /* NULL: taken back */
  GCancellable *cancellable;
  gint permille; /* atomic */
} Job;

struct _AppTraceJobs
{
  GObject parent;
  AppSession *session;
  GTask *task; /* under way, or NULL */
  guint tell, rest;
  gint told;
  AppTracing *tracing; /* compared only */
};

G_DEFINE_FINAL_TYPE (AppTraceJobs, app_trace_jobs, G_TYPE_OBJECT)

static void look (AppTraceJobs *jobs);

static void
job_free (gpointer data)
{
  Job *job = data;
  app_tracing_work_free (job->work);
  g_object_unref (job->cancellable);
  g_free (job);
}

static gboolean
on_tick (double share, gpointer data)
{
  Job *job = data;
  g_atomic_int_set (&job->permille, (gint)(share * 1000));
  return !g_cancellable_is_cancelled (job->cancellable);
}

static void
run (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  (void)source;
  Job *job = data;
  app_tracing_work_run (job->work, cancellable, on_tick, job);
  g_task_return_boolean (task, TRUE);
}

static void
stop_telling (AppTraceJobs *jobs)
{
  g_clear_handle_id (&jobs->tell, g_source_remove);
  jobs->told = -1;
}

static void
on_done (GObject *source, GAsyncResult *result, gpointer data)
{
  (void)source;
  g_autoptr (AppTraceJobs) jobs = data; /* held by the task's callback */
  GTask *task = G_TASK (result);
  Job *job = g_task_get_task_data (task);
  if (jobs->task != task)
    return;
  stop_telling (jobs);
  g_clear_object (&jobs->task);
  AppTracing *t
      = jobs->session != NULL ? app_tracing_get (jobs->session) : NULL;
  gboolean left_off = g_cancellable_is_cancelled (job->cancellable);
  if (t != NULL && t == jobs->tracing && !left_off)
    app_tracing_take_work (t, g_steal_pointer (&job->work));
  if (jobs->session != NULL)
    look (jobs);
  g_signal_emit_by_name (jobs, "changed");
}

static gboolean
on_tell (gpointer data)
{
  AppTraceJobs *jobs = data;
  Job *job = jobs->task != NULL ? g_task_get_task_data (jobs->task) : NULL;
  gint now = job != NULL ? g_atomic_int_get (&job->permille) : -1;
  if (now != jobs->told)
    g_signal_emit_by_name (jobs, "changed");
  jobs->told = now;
  return G_SOURCE_CONTINUE;
}

static void
start (AppTraceJobs *jobs, AppTracingWork *work)
{
  Job *job = g_new0 (Job, 1);
  job->work = work;
  job->cancellable = g_cancellable_new ();
  job->permille = -1;
  jobs->task
      = g_task_new (NULL, job->cancellable, on_done, g_object_ref (jobs));
  g_task_set_check_cancellable (jobs->task, FALSE);
  g_task_set_task_data (jobs->task, job, job_free);
  stop_telling (jobs);
  jobs->tell = g_timeout_add (TELL_MS, on_tell, jobs);
  g_task_run_in_thread (jobs->task, run);
  g_signal_emit_by_name (jobs, "changed");
}

static gboolean
on_rest (gpointer data)
{
  AppTraceJobs *jobs = data;
  jobs->rest = 0;
  AppTracing *t = app_tracing_get (jobs->session);
  AppTracingWork *work
      = jobs->task == NULL && t != NULL ? app_tracing_next_work (t) : NULL;
  if (work != NULL)
    start (jobs, work);
  return G_SOURCE_REMOVE;
}

/* Outlines wait until what they go by has come to rest; the rest begins at once. */
static void
look (AppTraceJobs *jobs)
{
  AppTracing *t = app_tracing_get (jobs->session);
  g_clear_handle_id (&jobs->rest, g_source_remove);
  if (jobs->task != NULL)
    {
      Job *job = g_task_get_task_data (jobs->task);
      if (t == NULL || t != jobs->tracing
          || (job->work != NULL && !app_tracing_wants (t, job->work)))
        g_cancellable_cancel (job->cancellable);
      return;
    }
  jobs->tracing = t;
  AppTracingWork *work = t != NULL ? app_tracing_next_work (t) : NULL;
  if (work == NULL)
    return;
  if (app_tracing_work_kind (work) != APP_TRACING_FOLLOW)
    {
      start (jobs, work);
      return;
    }
  app_tracing_work_free (work);
  jobs->rest = g_timeout_add (REST_MS, on_rest, jobs);
}

const char *
app_trace_jobs_get_words (AppTraceJobs *jobs, double *share)
{
  Job *job = jobs->task != NULL ? g_task_get_task_data (jobs->task) : NULL;
  if (job == NULL || job->work == NULL)
    return NULL;
  gint permille = g_atomic_int_get (&job->permille);
  *share = permille < 0 ? -1 : permille / 1000.0;
  return app_tracing_work_words (job->work);
}

void
app_trace_jobs_cancel (AppTraceJobs *jobs)
{
  AppTracing *t = app_tracing_get (jobs->session);
  if (jobs->task == NULL)
    return;
  g_autoptr (GTask) task = g_object_ref (jobs->task);
  Job *job = g_task_get_task_data (task);
  g_cancellable_cancel (job->cancellable);
  if (t != NULL && t == jobs->tracing && job->work != NULL)
    app_tracing_refuse_work (t, job->work);
}

void
app_trace_jobs_stop (AppTraceJobs *jobs)
{
  stop_telling (jobs);
  g_clear_handle_id (&jobs->rest, g_source_remove);
  if (jobs->task != NULL)
    g_cancellable_cancel (g_task_get_cancellable (jobs->task));
  if (jobs->session != NULL)
    g_signal_handlers_disconnect_by_data (jobs->session, jobs);
  g_clear_object (&jobs->task);
  g_clear_object (&jobs->session);
}

static void
app_trace_jobs_dispose (GObject *object)
{
  app_trace_jobs_stop (APP_TRACE_JOBS (object));
  G_OBJECT_CLASS (app_trace_jobs_parent_class)->dispose (object);
}

static void
app_trace_jobs_class_init (AppTraceJobsClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = app_trace_jobs_dispose;
  g_signal_new ("changed", APP_TYPE_TRACE_JOBS, G_SIGNAL_RUN_LAST, 0, NULL,
                NULL, NULL, G_TYPE_NONE, 0);
}

static void
app_trace_jobs_init (AppTraceJobs *jobs)
{
  jobs->told = -1;
}

AppTraceJobs *
app_trace_jobs_new (AppSession *session)
{
  AppTraceJobs *jobs = g_object_new (APP_TYPE_TRACE_JOBS, NULL);
  jobs->session = g_object_ref (session);
  g_signal_connect_swapped (session, "tracing-changed", G_CALLBACK (look),
                            jobs);
  look (jobs);
  return jobs;
}
