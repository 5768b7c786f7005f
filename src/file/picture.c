/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Reading pictures, on the program's side: the file and its header here, the pixels by a child (picture-child.c). */
#include "file/picture.h"

#include <errno.h>
#include <fcntl.h>
#include <glib/gi18n.h>
#include <poll.h>
#include <signal.h>
#include <string.h>
#include <sys/mman.h>
#include <sys/socket.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include "file/picture-header.h"

#define MOST_BYTES (256u << 20)
#define LEAST_SIDE 16
#define LOOK_EVERY 40 /* ms: whether it was left off */

/* --- the file ------------------------------------------------------------------------------ */
static gboolean
fail_reading (const char *path, const char *why, GError **error)
{
  g_autofree char *name = g_filename_display_basename (path);
  g_set_error (error, FILE_PICTURE_ERROR, FILE_PICTURE_ERROR_READ,
               _ ("“%s” could not be read: %s. Nothing was changed."), name,
               why);
  return FALSE;
}

static gboolean
read_whole (int fd, gsize size, guint8 *buffer)
{
  for (gsize got = 0; got < size;)
    {
      ssize_t n = read (fd, buffer + got, size - got);
      if (n < 0 && errno == EINTR)
        continue;
      if (n == 0)
        errno = EIO;
      if (n <= 0)
        return FALSE;
      got += (gsize)n;
    }
  return TRUE;
}

static GBytes *
read_file (const char *path, GError **error)
{
  struct stat st;
  int fd = open (path, O_RDONLY | O_CLOEXEC | O_NONBLOCK | O_NOCTTY);
  if (fd < 0 || fstat (fd, &st) != 0)
    {
      fail_reading (path, g_strerror (errno), error);
      if (fd >= 0)
        close (fd);
      return NULL;
    }
  const char *why = NULL;
  guint8 *buffer = NULL;
  if (S_ISDIR (st.st_mode))
    why = _ ("it is a folder");
  else if (!S_ISREG (st.st_mode))
    why = _ ("it is no ordinary file");
  else if (st.st_size > (off_t)MOST_BYTES)
    why = _ ("it is larger than 256 MB");
  else if ((buffer = g_try_malloc ((gsize)st.st_size + 1)) == NULL)
    why = g_strerror (ENOMEM);
  else if (!read_whole (fd, (gsize)st.st_size, buffer))
    why = g_strerror (errno);
  close (fd);
  if (why == NULL)
    return g_bytes_new_take (buffer, (gsize)st.st_size);
  g_free (buffer);
  fail_reading (path, why, error);
  return NULL;
}

/* --- the header ---------------------------------------------------------------------------- */
static gboolean
look (GBytes *bytes, FilePictureHeader *header, GError **error)
{
  gsize size;
  const guint8 *data = g_bytes_get_data (bytes, &size);
  if (!file_picture_header (data, size, header, error))
    return FALSE;
  guint w = header->width, h = header->height;
  if (w > TRACING_MOST_SIDE || h > TRACING_MOST_SIDE
      || (double)w * h > TRACING_MOST_PIXELS)
    {
      g_set_error (error, FILE_PICTURE_ERROR, FILE_PICTURE_ERROR_LARGE,
                   _ ("The picture is %u × %u pixels, which is more than can "
                      "be worked with (120 million in all, 32,000 a side). "
                      "Nothing was changed. Make it smaller; 10 pixels a "
                      "millimetre are plenty."),
                   w, h);
      return FALSE;
    }
  if (w < LEAST_SIDE || h < LEAST_SIDE)
    {
      g_set_error (error, FILE_PICTURE_ERROR, FILE_PICTURE_ERROR_SMALL,
                   _ ("The picture is only %u × %u pixels; there is nothing to "
                      "see in it. Nothing was changed."),
                   w, h);
      return FALSE;
    }
  return TRUE;
}

gboolean
file_picture_look (GBytes *bytes, FilePictureFacts *facts, GError **error)
{
  static const char *const kinds[] = { "PNG", "JPEG", "TIFF" };
  g_return_val_if_fail (bytes != NULL && facts != NULL, FALSE);
  FilePictureHeader header;
  if (!look (bytes, &header, error))
    return FALSE;
  gboolean lies = FILE_PICTURE_LIES (header.turn);
  *facts = (FilePictureFacts){
    .width = lies ? header.height : header.width,
    .height = lies ? header.width : header.height,
    .dots_mm
    = lies ? geo_point (header.dots_mm.y, header.dots_mm.x) : header.dots_mm,
    .kind = kinds[header.kind],
  };
  return TRUE;
}

GBytes *
file_picture_read (const char *path, GError **error)
{
  g_return_val_if_fail (path != NULL, NULL);
  return read_file (path, error);
}

GBytes *
file_picture_load (const char *path, GError **error)
{
  g_return_val_if_fail (path != NULL, NULL);
  GBytes *bytes = read_file (path, error);
  FilePictureFacts facts;
  if (bytes == NULL || file_picture_look (bytes, &facts, error))
    return bytes;
  g_bytes_unref (bytes);
  g_autofree char *name = g_filename_display_basename (path);
  /* Translators: which file, then what is wrong with it. */
  g_prefix_error (error, _ ("“%s”: "), name);
  return NULL;
}

/* --- the child ------------------------------------------------------------------------------ */
typedef struct
{
  FilePictureTask task;
  const guint8 *data;
  gsize sent;
  int socket, pixels; /* descriptors; -1: none */
  pid_t pid;          /* 0: none */
  gsize size;         /* of the pixels */
  guint8 end;         /* what it said last, of FILE_PICTURE_DONE and on */
  GCancellable *cancellable;
  TracingTick tick;
  gpointer tick_data;
} Job;

static gboolean
fail_system (const char *what, GError **error)
{
  g_set_error (error, FILE_PICTURE_ERROR, FILE_PICTURE_ERROR_READ,
               /* what failed, in English, then the system's reason */
               _ ("The picture could not be read: the system refused %s (%s). "
                  "Nothing was changed."),
               what, g_strerror (errno));
  return FALSE;
}

/* Sealed: what the child holds of it can't be cut shorter under us. */
static gboolean
open_pixels (Job *job, GError **error)
{
  guint width, height;
  file_picture_task_size (&job->task, &width, &height);
  job->size = (gsize)width * height * 3;
  job->pixels = memfd_create ("picture", MFD_CLOEXEC | MFD_ALLOW_SEALING);
  if (job->pixels < 0 || ftruncate (job->pixels, (off_t)job->size) != 0
      || fcntl (job->pixels, F_ADD_SEALS, F_SEAL_SHRINK | F_SEAL_GROW) != 0)
    return fail_system ("memory", error);
  return TRUE;
}

static gboolean
start_child (Job *job, GError **error)
{
  int ends[2];
  if (socketpair (AF_UNIX, SOCK_STREAM | SOCK_CLOEXEC, 0, ends) != 0)
    return fail_system ("a socket", error);
  job->socket = ends[0];
  /* By this name it is the program that runs, also where its file was replaced since. */
  const char *program = g_getenv ("BODKIN_PICTURE_READER");
  g_autofree char *numbers = g_strdup_printf (
      "%u %u %u %u %u %" G_GSIZE_FORMAT, job->task.kind, job->task.width,
      job->task.height, job->task.turn, job->task.shrink, job->task.length);
  const char *argv[] = { program != NULL ? program : "/proc/self/exe",
                         FILE_PICTURE_HIDDEN_ARGUMENT, numbers, NULL };
  /* A warning of the library is no reason to end. */
  char **environment = g_environ_unsetenv (g_get_environ (), "G_DEBUG");
  int there = FILE_PICTURE_PIXELS_FD;
  g_autoptr (GError) cause = NULL;
  gboolean started = g_spawn_async_with_pipes_and_fds (
      NULL, argv, (const char *const *)environment,
      G_SPAWN_DO_NOT_REAP_CHILD | G_SPAWN_STDOUT_TO_DEV_NULL
          | G_SPAWN_STDERR_TO_DEV_NULL,
      NULL, NULL, ends[1], -1, -1, &job->pixels, &there, 1, &job->pid, NULL,
      NULL, NULL, &cause);
  g_strfreev (environment);
  close (ends[1]);
  if (started)
    return TRUE;
  job->pid = 0;
  g_set_error (error, FILE_PICTURE_ERROR, FILE_PICTURE_ERROR_READ,
               _ ("The picture could not be read: the part of Bodkin that "
                  "does it did not start (%s). Nothing was changed."),
               cause->message);
  return FALSE;
}

/* FALSE where it was left off. */
static gboolean
go_on (Job *job, double share, GError **error)
{
  if (g_cancellable_is_cancelled (job->cancellable)
      || (job->tick != NULL && !job->tick (share, job->tick_data)))
    {
      g_set_error_literal (error, G_IO_ERROR, G_IO_ERROR_CANCELLED,
                           _ ("Reading the picture was left off. Nothing was "
                              "changed."));
      return FALSE;
    }
  return TRUE;
}

/* FALSE where nothing more will come. */
static gboolean
hear (Job *job, double *share)
{
  guint8 said[64];
  ssize_t n = recv (job->socket, said, sizeof said, MSG_DONTWAIT);
  if (n < 0)
    return errno == EAGAIN || errno == EINTR;
  for (ssize_t i = 0; i < n; i++)
    if (said[i] <= 100)
      *share = MAX (*share, said[i] / 100.0);
    else if (job->end == 0)
      job->end = said[i];
  return n > 0 && job->end == 0;
}

/* A child that is gone takes nothing more: what it said before still counts. */
static void
tell (Job *job)
{
  ssize_t n = send (job->socket, job->data + job->sent,
                    MIN (job->task.length - job->sent, 1u << 20),
                    MSG_DONTWAIT | MSG_NOSIGNAL);
  if (n > 0)
    job->sent += (gsize)n;
  else if (n < 0 && errno != EAGAIN && errno != EINTR)
    job->sent = job->task.length;
}

static gboolean
attend (Job *job, GError **error)
{
  double share = 0;
  gboolean more = TRUE;
  while (more)
    {
      struct pollfd on = { job->socket, POLLIN, 0 };
      if (job->sent < job->task.length)
        on.events |= POLLOUT;
      (void)poll (&on, 1, LOOK_EVERY);
      if (on.revents & (POLLIN | POLLHUP | POLLERR))
        more = hear (job, &share);
      if (more && (on.revents & POLLOUT))
        tell (job);
      if (!go_on (job, share, error))
        return FALSE;
    }
  return TRUE;
}

static void
end_child (Job *job)
{
  if (job->socket >= 0)
    close (job->socket);
  job->socket = -1;
  if (job->pid == 0)
    return;
  if (job->end != FILE_PICTURE_DONE)
    (void)kill (job->pid, SIGKILL);
  while (waitpid (job->pid, NULL, 0) < 0 && errno == EINTR)
    continue;
  job->pid = 0;
}

static gboolean
judge (const Job *job, GError **error)
{
  if (job->end == FILE_PICTURE_DONE)
    return TRUE;
  if (job->end == FILE_PICTURE_NO_MEMORY)
    g_set_error_literal (
        error, FILE_PICTURE_ERROR, FILE_PICTURE_ERROR_LARGE,
        _ ("There is not enough memory for the picture. Nothing was changed. "
           "Close other programs, or make the picture smaller."));
  else
    g_set_error_literal (
        error, FILE_PICTURE_ERROR, FILE_PICTURE_ERROR_BAD,
        _ ("The picture is damaged and can't be read. Nothing was changed. "
           "Copy it from the phone or scanner once more."));
  return FALSE;
}

/* --- the result ------------------------------------------------------------------------------ */
typedef struct
{
  gpointer at;
  gsize size;
} Mapping;

static void
unmap (gpointer data)
{
  Mapping *mapping = data;
  munmap (mapping->at, mapping->size);
  g_free (mapping);
}

static TracingPicture *
take_pixels (const Job *job, GeoPoint dots_mm, GError **error)
{
  guint width, height;
  file_picture_task_size (&job->task, &width, &height);
  gpointer at = mmap (NULL, job->size, PROT_READ, MAP_SHARED, job->pixels, 0);
  if (at == MAP_FAILED)
    {
      fail_system ("memory", error);
      return NULL;
    }
  Mapping *mapping = g_new (Mapping, 1);
  *mapping = (Mapping){ at, job->size };
  double less = 1.0 / job->task.shrink;
  return tracing_picture_new (width, height, (gsize)width * 3, at,
                              geo_point (dots_mm.x * less, dots_mm.y * less),
                              unmap, mapping);
}

TracingPicture *
file_picture_decode (GBytes *bytes, guint shrink, GCancellable *cancellable,
                     TracingTick tick, gpointer data, GError **error)
{
  g_return_val_if_fail (bytes != NULL, NULL);
  g_return_val_if_fail (shrink >= 1 && shrink <= 64, NULL);
  FilePictureHeader header;
  FilePictureFacts facts;
  if (!look (bytes, &header, error)
      || !file_picture_look (bytes, &facts, error))
    return NULL;
  gsize length;
  const guint8 *file = g_bytes_get_data (bytes, &length);
  Job job = {
    .task
    = { header.kind, header.width, header.height, header.turn, shrink, length },
    .data = file,
    .socket = -1,
    .pixels = -1,
    .cancellable = cancellable,
    .tick = tick,
    .tick_data = data,
  };
  TracingPicture *picture = NULL;
  gboolean done = open_pixels (&job, error) && start_child (&job, error)
                  && attend (&job, error);
  end_child (&job);
  if (done && judge (&job, error))
    picture = take_pixels (&job, facts.dots_mm, error);
  if (job.pixels >= 0)
    close (job.pixels);
  return picture;
}
