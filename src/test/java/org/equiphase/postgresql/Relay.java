package org.equiphase.postgresql;

import java.io.IOException;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.net.Socket;
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;

/** Passes connections on to a port of this machine, until it is cut. */
final class Relay implements AutoCloseable {

  private final int target;
  private final ServerSocket server = new ServerSocket(0, 50, InetAddress.getLoopbackAddress());
  private final Set<Socket> open = ConcurrentHashMap.newKeySet();
  private volatile boolean isCut;

  Relay(int target) throws IOException {
    this.target = target;
    daemon(this::accept);
  }

  int port() {
    return server.getLocalPort();
  }

  /** Ends all connections, and each new one at once. */
  void cut() throws IOException {
    isCut = true;
    for (Socket socket : open) {
      socket.close();
    }
    open.clear();
  }

  void mend() {
    isCut = false;
  }

  @Override
  public void close() throws IOException {
    cut();
    server.close();
  }

  private void accept() {
    while (!server.isClosed()) {
      try {
        Socket here = server.accept();
        if (isCut) {
          here.close();
          continue;
        }
        Socket there = new Socket(InetAddress.getLoopbackAddress(), target);
        open.add(here);
        open.add(there);
        daemon(() -> pass(here, there));
        daemon(() -> pass(there, here));
      } catch (IOException e) {
        // Closed, or nothing listens at the target; whoever connected sees it.
      }
    }
  }

  private void pass(Socket from, Socket to) {
    try (from;
        to) {
      from.getInputStream().transferTo(to.getOutputStream());
    } catch (IOException e) {
      // The other end is gone, and so are both of these.
    } finally {
      open.remove(from);
      open.remove(to);
    }
  }

  private static void daemon(Runnable work) {
    Thread thread = new Thread(work, "relay");
    thread.setDaemon(true);
    thread.start();
  }
}
